import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { log } from '@/lib/log'
import { fallsDue } from '@/lib/permit/due'
import { checkChains } from './chain-checks'
import { db } from './client'
import { learnWhenDue } from './crew-factors'
import { startLookWhenDue } from './findings/run'
import { learnDemandWhenDue } from './learned-demand'
import { loadPermitContext, type PermitContext } from './permits/context'
import { tellOfEnds } from './qualification-ends'
import { removeOldTries } from './tries'
import { inTransaction, SYSTEM, type Tx } from './tx'

const TICK_LOCK = 'kerfwatch background tick'
/** Permits looked at in one tick; what is left comes up in the next, ten seconds later. */
const MOST_PERMITS = 200
const CHAIN_CHECK_EVERY_MIN = 15
const LOCK_FOR_MS = 10 * 60_000

/** The permits that time may move by itself: open and held ones, those that end first on top. */
async function movablePermits(): Promise<string[]> {
  const rows = await db.$queryRaw<{ id: string }[]>`
    SELECT id FROM permits WHERE state IN ('open', 'held')
    ORDER BY coalesce(valid_until, 'infinity'), id LIMIT ${MOST_PERMITS}`
  return rows.map((row) => row.id)
}

const dueOf = ({ facts, now }: PermitContext) => fallsDue({ facts, now })

/** An end, a gas test that ran out, a look that is due: recorded under the permit's lock, so only once. */
async function moveByTime(permitId: string): Promise<void> {
  if (dueOf(await loadPermitContext(db, permitId)).kind === 'nothing') return
  await inTransaction(SYSTEM, 'permit:time', async (tx) => {
    await tx.$executeRaw`SELECT 1 FROM permits WHERE id = ${permitId}::uuid FOR NO KEY UPDATE`
    const context = await loadPermitContext(tx, permitId)
    const due = dueOf(context)
    if (due.kind === 'nothing') return
    const codes = due.kind === 'hold' ? due.reasons.map((reason) => reason.code) : []
    await tx.permitEvent.create({
      select: { id: true },
      data: {
        id: uuidv7(),
        siteId: context.facts.siteId,
        permitId,
        kind: due.kind === 'expire' ? 'expired' : 'held',
        personId: null,
        roleThen: 'system',
        data: due.kind === 'expire' ? {} : { reason: codes[0] ?? 'time', reasons: codes },
      },
    })
  })
}

/** Tells whoever must know of a round that was due and not made; once for each due time. */
async function tellOfMissedRounds(tx: Tx): Promise<void> {
  await tx.$executeRaw`
    INSERT INTO notices (id, site_id, person_id, kind, subject_id, data, dedupe)
    SELECT gen_random_uuid(), p.site_id, who.person_id, 'round_missed', p.id, jsonb_build_object('dueAt', kerf_ms(w.next_due_at)),
           'round:' || p.id || ':' || kerf_ms(w.next_due_at) || ':' || who.person_id
    FROM (SELECT * FROM permits WHERE state IN ('held', 'watch') ORDER BY state_at DESC LIMIT ${MOST_PERMITS}) AS p,
      LATERAL kerf_watch_progress(p.id) AS w,
      LATERAL (
        SELECT g.person_id FROM grants g JOIN people q ON q.id = g.person_id AND q.disabled_at IS NULL
        WHERE g.site_id = p.site_id AND g.revoked_at IS NULL AND g.role IN ('pai', 'foreman')
        UNION SELECT s.person_id FROM stints s WHERE s.permit_id = p.id AND s.role = 'fire_watch' AND s.to_at IS NULL) AS who
    WHERE w.done_at IS NULL AND w.next_due_at < kerf_now()
    ON CONFLICT (dedupe) DO NOTHING`
}

async function isChainCheckDue(): Promise<boolean> {
  const rows = await db.$queryRaw<{ is_due: boolean }[]>`
    SELECT coalesce(max(checked_at) < kerf_now() - make_interval(mins => ${CHAIN_CHECK_EVERY_MIN}), true) AS is_due FROM chain_checks`
  return rows[0]?.is_due ?? true
}

/** One thing that fails (a permit that somebody is changing this second) must not keep time from the rest. */
async function trying(event: string, subject: object, act: () => Promise<unknown>): Promise<void> {
  try {
    await act()
  } catch (error) {
    log.warn({ err: error, ...subject }, event)
  }
}

/**
 * What time does by itself: ends of permits, tests that run out, missed rounds, checks of the
 * record. Every process tries; the one that gets the lock does it. Doing it twice changes nothing.
 */
export async function tick(): Promise<'done' | 'elsewhere'> {
  return db.$transaction(
    async (tx) => {
      const rows = await tx.$queryRaw<{ is_mine: boolean }[]>`
        SELECT pg_try_advisory_xact_lock(hashtextextended(${TICK_LOCK}, 0)) AS is_mine`
      if (!rows[0]?.is_mine) return 'elsewhere'
      // The session that holds the lock must not look idle while others do the work.
      const stayAwake = () => tx.$executeRaw`SELECT 1`
      for (const permitId of await movablePermits()) {
        await trying('tick.permit', { permitId }, () => moveByTime(permitId))
        await stayAwake()
      }
      await trying('tick.rounds', {}, () =>
        inTransaction(SYSTEM, 'permit:missed-round', tellOfMissedRounds),
      )
      await stayAwake()
      await trying('tick.findings', {}, startLookWhenDue)
      if (await isChainCheckDue()) {
        await trying('tick.chains', {}, () => checkChains(stayAwake))
        await trying('tick.tries', {}, removeOldTries)
        await trying('tick.crews', {}, learnWhenDue)
        await trying('tick.demand', {}, learnDemandWhenDue)
        await trying('tick.ends', {}, () => inTransaction(SYSTEM, 'people:ends', tellOfEnds))
      }
      return 'done'
    },
    { maxWait: 4_000, timeout: LOCK_FOR_MS },
  )
}

const EVERY_MS = 10_000
const kept = globalThis as { kerfwatchTick?: ReturnType<typeof setTimeout> | null }

/** What a page needs from the first one on, before this process serves any. */
export async function beforeServing(): Promise<void> {
  await trying('start.crews', {}, learnWhenDue)
  await trying('start.demand', {}, learnDemandWhenDue)
}

/** Starts the clock of this process; a second call changes nothing. A slow tick is never overtaken by the next. */
export function startTicking(): void {
  if (kept.kerfwatchTick !== undefined) return
  const next = () => {
    kept.kerfwatchTick = setTimeout(run, EVERY_MS)
    kept.kerfwatchTick.unref()
  }
  const run = () => {
    tick()
      .catch((error: unknown) => log.warn({ err: error }, 'tick.failed'))
      .finally(next)
  }
  next()
}
