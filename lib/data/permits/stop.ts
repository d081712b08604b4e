import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { verifyPin } from '@/lib/auth/pin'
import { mayGoBack } from '@/lib/permit/stop'
import type { WithdrawStopInput } from '@/lib/schemas/permit'
import { db } from '../client'
import { doneBefore, once } from '../client-keys'
import { inTransaction, type Tx } from '../tx'
import { assertOnPermit, loadPermitContext, type PermitContext, refuseUnless } from './context'
import { addEvent } from './events'
import { readPersonFact } from './person-fact'

async function goBack(tx: Tx, context: PermitContext, personId: string) {
  const person = await readPersonFact(tx, context, personId)
  const held = await tx.grant.count({
    where: { siteId: context.facts.siteId, personId, role: 'foreman', revokedAt: null },
  })
  return {
    isForeman: held > 0,
    verdict: mayGoBack({ facts: context.facts, person, isForeman: held > 0, day: context.day }),
  }
}

/**
 * Takes the first press of stop back, with the PIN of the operator or a foreman; the press stays in
 * the record. The permit stays held: going on is a new look and the PAI's own step.
 */
export async function withdrawStop(
  viewer: Viewer,
  input: WithdrawStopInput,
): Promise<Readonly<{ permitId: string }>> {
  await assertOnPermit(viewer, 'permit:sign', input.permitId)
  const { pin, ...rest } = input
  const submission = { key: input.key, action: 'permit:go-back', input: rest }
  const done = await doneBefore<{ permitId: string }>(db, viewer, submission)
  if (done) return done
  refuseUnless(
    (await goBack(db, await loadPermitContext(db, input.permitId), input.personId)).verdict,
  )
  await verifyPin(input.personId, pin)
  return inTransaction(viewer, 'work:stop', (tx) =>
    once(tx, viewer, submission, async () => {
      const context = await loadPermitContext(tx, input.permitId)
      const { isForeman, verdict } = await goBack(tx, context, input.personId)
      refuseUnless(verdict)
      const role = isForeman ? 'foreman' : 'operator'
      await addEvent(tx, { viewer, role, context }, 'stop_withdrawn', {
        personId: input.personId,
        deviceAt: input.deviceAt,
      })
      return { permitId: input.permitId }
    }),
  )
}
