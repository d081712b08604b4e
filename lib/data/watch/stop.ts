import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { mayStop } from '@/lib/permit/stop'
import type { PermitState } from '@/lib/permit/types'
import type { PostedStopInput, SmokeInput, StopInput } from '@/lib/schemas/watch'
import { db } from '../client'
import { once } from '../client-keys'
import {
  assertOnPermit,
  loadPermitContext,
  type PermitContext,
  refuseUnless,
} from '../permits/context'
import { roleThen } from '../role-then'
import { inTransaction, SYSTEM, type Tx } from '../tx'
import { addFact, type By, lockPermit, tellThoseOnIt } from './event-facts'

/** What a press did, as the slab shows it. */
export type StopAnswer = {
  state: PermitState
  atMs: number
  watchMinutes: number | null
  watchUntilMs: number | null
  rang: { name: string; seenAtMs: number | null }[]
}

async function readRang(
  tx: Tx,
  context: PermitContext,
  butNot: string | null,
): Promise<StopAnswer['rang']> {
  const rows = await tx.$queryRaw<{ name: string; seen_at: Date | null }[]>`
    SELECT q.name, max(n.seen_at) AS seen_at FROM notices n JOIN people q ON q.id = n.person_id
    WHERE n.subject_id = ${context.bundle.permit.id}::uuid AND n.kind IN ('stop_pressed', 'smoke')
      AND n.person_id IS DISTINCT FROM ${butNot}::uuid AND n.at > kerf_now() - interval '10 minutes'
    GROUP BY q.id, q.name ORDER BY q.name LIMIT 20`
  return rows.map((row) => ({ name: row.name, seenAtMs: row.seen_at?.getTime() ?? null }))
}

function answerOf(context: PermitContext, rang: StopAnswer['rang']): StopAnswer {
  const { facts, watch, duties, now } = context
  const at = facts.stoppedAt ?? facts.stopPressedAt ?? now
  return {
    state: facts.state,
    atMs: at.getTime(),
    watchMinutes: watch ? duties.watchMin : null,
    watchUntilMs: (watch?.doneAt ?? watch?.endsAtIfWatched)?.getTime() ?? null,
    rang,
  }
}

/** The press itself, under the permit's lock. What is stopped already stays so and answers the same. */
async function press(tx: Tx, permitId: string, by: By, step: StopInput['step']): Promise<void> {
  const locked = await lockPermit(tx, permitId)
  if (locked.stoppedAt) return
  refuseUnless(mayStop(locked))
  const isPressed = locked.stopPressedAt !== null
  // Without a person nothing tells two presses apart, so one that is pressed already is not pressed again.
  if (!isPressed || (step === 'hold' && by.personId !== null)) {
    const id = await addFact(tx, locked, by, { kind: 'held', data: { stop: true } })
    await tellThoseOnIt(tx, locked, { kind: 'stop_pressed', once: `stop:${id}` })
  }
  if (step === 'stop') await addFact(tx, locked, by, { kind: 'stopped', data: {} })
}

/** Stop work, by anybody who may see the site at all. The first press holds at once, the second is for good. */
export async function stopWork(
  viewer: Viewer,
  permitId: string,
  input: StopInput,
): Promise<StopAnswer> {
  const { siteId } = await assertOnPermit(viewer, 'work:stop', permitId)
  const by = {
    personId: viewer.personId,
    roleThen: roleThen(viewer, 'work:stop', siteId),
    deviceAt: input.deviceAt,
  }
  const submission = { key: input.key, action: 'work:stop', input: { permitId, step: input.step } }
  return inTransaction(viewer, 'work:stop', (tx) =>
    once(tx, viewer, submission, async () => {
      await press(tx, permitId, by, input.step)
      const after = await loadPermitContext(tx, permitId)
      return answerOf(after, await readRang(tx, after, viewer.personId))
    }),
  )
}

/** The same by the posted code, for whoever stands there. It names nobody: the code hangs in the open. */
export async function stopByCode(code: string, input: PostedStopInput): Promise<StopAnswer> {
  const permit = await db.permit.findUnique({ where: { stopCode: code }, select: { id: true } })
  if (!permit) throw new AppError('NOT_FOUND')
  return inTransaction(SYSTEM, 'work:stop', async (tx) => {
    await press(tx, permit.id, { personId: null, roleThen: 'posted_code' }, input.step)
    return answerOf(await loadPermitContext(tx, permit.id), [])
  })
}

/** Smoke, glow or fire: rings who must know, and the watch starts over. Under an open permit it holds first. */
export async function reportSmoke(
  viewer: Viewer,
  permitId: string,
  input: SmokeInput,
): Promise<StopAnswer> {
  const { siteId } = await assertOnPermit(viewer, 'work:stop', permitId)
  const by = {
    personId: viewer.personId,
    roleThen: roleThen(viewer, 'work:stop', siteId),
    deviceAt: input.deviceAt,
  }
  return inTransaction(viewer, 'work:stop', (tx) =>
    once(tx, viewer, { key: input.key, action: 'work:smoke', input: { permitId } }, async () => {
      const found = await lockPermit(tx, permitId)
      if (found.state === 'open') await press(tx, permitId, by, 'hold')
      const locked = await lockPermit(tx, permitId)
      const id = await addFact(tx, locked, by, smokeFact(locked.state))
      await tellThoseOnIt(tx, locked, { kind: 'smoke', once: `smoke:${id}` })
      const after = await loadPermitContext(tx, permitId)
      return {
        ...answerOf(after, await readRang(tx, after, viewer.personId)),
        atMs: after.now.getTime(),
      }
    }),
  )
}

/** Only where a torch has burnt is there a watch to start over; elsewhere the smoke itself is the fact. */
function smokeFact(state: PermitState) {
  const hasWatch = state === 'held' || state === 'watch'
  return hasWatch
    ? ({ kind: 'watch_restarted', data: { because: 'smoke' } } as const)
    : ({ kind: 'note', data: { smoke: true } } as const)
}
