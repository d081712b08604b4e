import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { verifyPin } from '@/lib/auth/pin'
import { AppError, type Reason } from '@/lib/errors'
import { stateReasons } from '@/lib/permit/issue'
import { personReasons } from '@/lib/permit/reasons'
import type { PermitState, PersonFact, QualificationKind, Stint } from '@/lib/permit/types'
import type { HandOverInput } from '@/lib/schemas/permit'
import { db } from '../client'
import { doneBefore, once } from '../client-keys'
import { roleThen } from '../role-then'
import { inTransaction, type Tx } from '../tx'
import {
  assertFresh,
  assertOnPermit,
  assertSeen,
  loadPermitContext,
  type PermitContext,
} from './context'
import { addEvent, addSignature } from './events'
import { readPersonFact } from './person-fact'
import { signerReasons } from './signer'

interface Part {
  act: 'agree' | 'acknowledge'
  kind: QualificationKind
  on: 'operator_on' | 'watch_on'
  off: 'operator_off' | 'watch_off'
  states: readonly PermitState[]
}

const PARTS: Readonly<Record<HandOverInput['role'], Part>> = {
  operator: {
    act: 'agree',
    kind: 'torch_operator',
    on: 'operator_on',
    off: 'operator_off',
    states: ['open'],
  },
  fire_watch: {
    act: 'acknowledge',
    kind: 'fire_watch',
    on: 'watch_on',
    off: 'watch_off',
    states: ['open', 'held', 'watch'],
  },
}

const onNow = (stints: readonly Stint[]) =>
  stints.filter((stint) => stint.offAt === null).map((stint) => stint.personId)

/** Why this person can't take over now; everything at once. */
function takeOverReasons(
  context: PermitContext,
  input: HandOverInput,
  person: PersonFact,
): Reason[] {
  const { facts, day } = context
  const part = PARTS[input.role]
  const cutting = [
    ...onNow(facts.operatorStints),
    ...(facts.state === 'open' ? [facts.operatorId] : []),
  ]
  const watching = onNow(facts.watchStints)
  const isBoth = (input.role === 'operator' ? watching : cutting).includes(input.personId)
  const isOn = (input.role === 'operator' ? onNow(facts.operatorStints) : watching).includes(
    input.personId,
  )
  return [
    ...stateReasons(facts.state, part.states),
    ...personReasons(person, part.kind, day),
    ...(isBoth ? [{ code: 'CUTS_AND_WATCHES', params: { person: person.name } }] : []),
    ...(isOn ? [{ code: 'ALREADY_ON', params: { person: person.name } }] : []),
    ...(input.role === 'operator' && input.personId === facts.paiId
      ? [{ code: 'OWN_WORK', params: { personId: person.id } }]
      : []),
  ]
}

/** Minutes of watch that are still owed at this moment; the whole of it while the torch burns. */
function owedMin({ watch, duties }: PermitContext): number {
  return watch ? Math.ceil(watch.remainingMs / 60_000) : duties.watchMin
}

async function check(
  tx: Tx,
  context: PermitContext,
  input: HandOverInput,
  more: readonly Reason[],
): Promise<void> {
  const person = await readPersonFact(tx, context, input.personId)
  const reasons = [...takeOverReasons(context, input, person), ...more]
  if (reasons.length > 0) throw new AppError('PERMIT_REFUSED', { count: reasons.length }, reasons)
}

/**
 * Somebody takes over the torch or the watch with their own PIN: they sign, come on, and whoever
 * was on goes off, in one act, so that the watch is never empty in between.
 */
export async function handOver(
  viewer: Viewer,
  input: HandOverInput,
): Promise<Readonly<{ permitId: string }>> {
  const { siteId } = await assertOnPermit(viewer, 'permit:sign', input.permitId)
  const role = roleThen(viewer, 'permit:sign', siteId)
  const { pin, ...rest } = input
  const submission = { key: input.key, action: 'permit:hand-over', input: rest }
  const done = await doneBefore<{ permitId: string }>(db, viewer, submission)
  if (done) return done
  const notHis = await signerReasons(siteId, input.personId, input.role)
  const before = await loadPermitContext(db, input.permitId)
  await check(db, before, input, notHis)
  assertSeen(before, input.contentHash)
  await verifyPin(input.personId, pin)
  const part = PARTS[input.role]
  return inTransaction(viewer, 'permit:hand-over', (tx) =>
    once(tx, viewer, submission, async () => {
      const context = await loadPermitContext(tx, input.permitId)
      assertFresh(context, input.version)
      await check(tx, context, input, notHis)
      const leaving = onNow(
        input.role === 'operator' ? context.facts.operatorStints : context.facts.watchStints,
      )
      const by = { viewer, role, context }
      const { deviceAt } = input
      await addSignature(tx, context, {
        act: part.act,
        role: input.role,
        personId: input.personId,
        deviceAt,
        contentHash: input.contentHash,
      })
      // Who goes names who holds what is owed; the PIN above is that they take it.
      const data = { from: leaving, namedBy: viewer.personId, owedMin: owedMin(context) }
      await addEvent(tx, by, part.on, { subjectId: input.personId, deviceAt, data })
      for (const personId of leaving)
        await addEvent(tx, by, part.off, {
          subjectId: personId,
          deviceAt,
          data: { to: input.personId, namedBy: viewer.personId },
        })
      return { permitId: input.permitId }
    }),
  )
}
