import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { verifyPin } from '@/lib/auth/pin'
import { AppError, type Reason } from '@/lib/errors'
import { stateReasons } from '@/lib/permit/issue'
import { personReasons } from '@/lib/permit/reasons'
import type { SignPermitInput } from '@/lib/schemas/permit'
import { db } from '../client'
import { doneBefore, once } from '../client-keys'
import { inTransaction } from '../tx'
import {
  assertFresh,
  assertOnPermit,
  assertSeen,
  loadPermitContext,
  type PermitContext,
  readPermitContext,
} from './context'
import { addSignature } from './events'
import { signerReasons } from './signer'

const PART = {
  agree: { role: 'operator', kind: 'torch_operator' },
  acknowledge: { role: 'fire_watch', kind: 'fire_watch' },
} as const

/** Why this person may not give this signature now; everything at once. */
function signReasons(context: PermitContext, input: SignPermitInput): Reason[] {
  const { facts, people, day } = context
  const { kind } = PART[input.act]
  const named = input.act === 'agree' ? facts.operatorId : facts.fireWatchId
  const isBeforeAgree =
    input.act === 'acknowledge' && !facts.signatures.some((one) => one.act === 'agree')
  return [
    ...stateReasons(facts.state, ['cleared']),
    ...(named === input.personId
      ? []
      : [{ code: 'NOT_THE_NAMED_PERSON', params: { act: input.act } }]),
    ...(isBeforeAgree ? [{ code: 'OPERATOR_SIGNS_FIRST' }] : []),
    ...personReasons(
      people.find((person) => person.id === input.personId),
      kind,
      day,
    ),
  ]
}

function refuse(reasons: readonly Reason[]): void {
  if (reasons.length > 0) throw new AppError('PERMIT_REFUSED', { count: reasons.length }, reasons)
}

/**
 * The operator agrees, or the fire watch acknowledges: the named person, with their own PIN, on
 * whatever phone goes round. Everything else is looked at before a try of the PIN is spent.
 */
export async function signPermit(
  viewer: Viewer,
  input: SignPermitInput,
): Promise<{ permitId: string }> {
  const { siteId } = await assertOnPermit(viewer, 'permit:sign', input.permitId)
  const { role } = PART[input.act]
  const { pin, ...rest } = input
  const submission = { key: input.key, action: 'permit:sign', input: rest }
  const done = await doneBefore<{ permitId: string }>(db, viewer, submission)
  if (done) return done
  const before = await readPermitContext(viewer, input.permitId)
  refuse([...signReasons(before, input), ...(await signerReasons(siteId, input.personId, role))])
  assertSeen(before, input.contentHash)
  await verifyPin(input.personId, pin)
  return inTransaction(viewer, 'permit:sign', (tx) =>
    once(tx, viewer, submission, async () => {
      const context = await loadPermitContext(tx, input.permitId)
      assertFresh(context, input.version)
      refuse(signReasons(context, input))
      await addSignature(tx, context, {
        act: input.act,
        role,
        personId: input.personId,
        deviceAt: input.deviceAt,
        contentHash: input.contentHash,
      })
      return { permitId: input.permitId }
    }),
  )
}
