import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { mayStop } from '@/lib/permit/stop'
import type { PermitState } from '@/lib/permit/types'
import type { PostedStopInput, SmokeInput, StopInput } from '@/lib/schemas/watch'
import { db } from '../client'
import { once } from '../client-keys'
import { assertOnPermit, refuseUnless } from '../permits/context'
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

/** Whoever was rung in so many minutes has to do with this press. */
const RANG_WITHIN = '10 minutes'
const MOST_RANG = 20

type AnswerRow = Readonly<{
  state: PermitState
  at: Date
  now: Date
  watchMinutes: number | null
  watchUntil: Date | null
  rang: readonly Readonly<{ name: string; seenAtMs: number | null }>[]
}>

/**
 * What the permit is after a press, in one statement: whoever pressed waits for it, and no rule is asked.
 * `butNot` was not rung; null where the answer names nobody.
 */
async function readAnswer(
  tx: Tx,
  permitId: string,
  { butNot }: Readonly<{ butNot: string | null }>,
): Promise<AnswerRow> {
  const [row] = await tx.$queryRaw<AnswerRow[]>`
    SELECT p.state, coalesce(p.stopped_at, p.stop_pressed_at, kerf_now()) AS at, kerf_now() AS now,
      CASE WHEN p.torch_out_at IS NOT NULL THEN kerf_watch_owed(p)::float END AS "watchMinutes",
      CASE WHEN p.torch_out_at IS NOT NULL AND p.watch_minutes IS NOT NULL THEN coalesce(w.done_at,
        kerf_now() + make_interval(secs => greatest(0, kerf_watch_owed(p) * 60 - w.credit_ms / 1000.0)::float)) END AS "watchUntil",
      CASE WHEN ${butNot}::uuid IS NULL THEN '[]' ELSE coalesce((
        SELECT jsonb_agg(jsonb_build_object('name', r.name, 'seenAtMs', kerf_ms(r.seen_at)) ORDER BY r.name) FROM (
          SELECT q.name, max(n.seen_at) AS seen_at FROM notices n JOIN people q ON q.id = n.person_id
          WHERE n.subject_id = p.id AND n.kind IN ('stop_pressed', 'smoke') AND n.person_id <> ${butNot}::uuid
            AND n.at > kerf_now() - ${RANG_WITHIN}::interval
          GROUP BY q.id, q.name ORDER BY q.name LIMIT ${MOST_RANG}) AS r), '[]') END AS rang
    FROM permits p, LATERAL kerf_watch_progress(p.id) AS w WHERE p.id = ${permitId}::uuid`
  if (!row) throw new AppError('NOT_FOUND')
  return row
}

const answerOf = ({ state, at, watchMinutes, watchUntil, rang }: AnswerRow): StopAnswer => ({
  state,
  atMs: at.getTime(),
  watchMinutes,
  watchUntilMs: watchUntil?.getTime() ?? null,
  rang: rang.map(({ name, seenAtMs }) => ({ name, seenAtMs })),
})

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
      return answerOf(await readAnswer(tx, permitId, { butNot: viewer.personId }))
    }),
  )
}

/** The same by the posted code, for whoever stands there. It names nobody: the code hangs in the open. */
export async function stopByCode(code: string, input: PostedStopInput): Promise<StopAnswer> {
  const permit = await db.permit.findUnique({ where: { stopCode: code }, select: { id: true } })
  if (!permit) throw new AppError('NOT_FOUND')
  return inTransaction(SYSTEM, 'work:stop', async (tx) => {
    await press(tx, permit.id, { personId: null, roleThen: 'posted_code' }, input.step)
    return answerOf(await readAnswer(tx, permit.id, { butNot: null }))
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
      const after = await readAnswer(tx, permitId, { butNot: viewer.personId })
      return answerOf({ ...after, at: after.now })
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
