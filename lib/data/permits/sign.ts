import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { verifyPin } from '@/lib/auth/pin'
import { AppError, type Reason } from '@/lib/errors'
import { stateReasons } from '@/lib/permit/issue'
import { personReasons } from '@/lib/permit/reasons'
import type { PersonFact } from '@/lib/permit/types'
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
import { readPersonFact } from './person-fact'
import { signerReasons } from './signer'

const PART = {
  agree: { role: 'operator', kind: 'torch_operator' },
  acknowledge: { role: 'fire_watch', kind: 'fire_watch' },
  enter: { role: 'entry_supervisor', kind: 'entry_supervisor' },
} as const

/** Why this person may not give this signature now; everything at once. */
function signReasons(context: PermitContext, input: SignPermitInput, signer: PersonFact): Reason[] {
  const { facts, day } = context
  const { kind } = PART[input.act]
  // Nobody is named beforehand as the entry supervisor: whoever is one that day signs.
  const named = { agree: facts.operatorId, acknowledge: facts.fireWatchId, enter: input.personId }[
    input.act
  ]
  const has = (act: SignPermitInput['act']) => facts.signatures.some((one) => one.act === act)
  const isBeforeWatch =
    input.act === 'enter' && !has(facts.fireWatchId === null ? 'agree' : 'acknowledge')
  const isBeforeAgree = input.act === 'acknowledge' && !has('agree')
  return [
    ...stateReasons(facts.state, ['cleared']),
    ...(named === input.personId
      ? []
      : [{ code: 'NOT_THE_NAMED_PERSON', params: { act: input.act } }]),
    ...(isBeforeAgree ? [{ code: 'OPERATOR_SIGNS_FIRST' }] : []),
    ...(isBeforeWatch ? [{ code: 'WATCH_SIGNS_FIRST' }] : []),
    ...personReasons(signer, kind, day),
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
  const signer = await readPersonFact(db, before, input.personId)
  refuse([
    ...signReasons(before, input, signer),
    ...(await signerReasons(siteId, input.personId, role)),
  ])
  assertSeen(before, input.contentHash)
  await verifyPin(input.personId, pin)
  return inTransaction(viewer, 'permit:sign', (tx) =>
    once(tx, viewer, submission, async () => {
      const context = await loadPermitContext(tx, input.permitId)
      assertFresh(context, input.version)
      refuse(signReasons(context, input, await readPersonFact(tx, context, input.personId)))
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
