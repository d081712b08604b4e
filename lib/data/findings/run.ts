import 'server-only'
import { createHash } from 'node:crypto'
import { v7 as uuidv7 } from 'uuid'
import { dangerOf, worthOf } from '@/lib/calc/finding-rank'
import { USUAL_FALSE_ALARM } from '@/lib/calc/gross-error-global'
import { explainTrail } from '@/lib/calc/hypotheses'
import { groupBy } from '@/lib/calc/hypotheses-stretches'
import type { Finding, Hypothesis, Trail } from '@/lib/calc/hypotheses-types'
import { weeklyBalances } from '@/lib/calc/site-balance'
import { log } from '@/lib/log'
import { db } from '../client'
import { readNow } from '../cylinders'
import { inTransaction, SYSTEM, type Tx } from '../tx'
import { type Figure, figuresOf, keepFigures } from './job-figures'
import { asOnlyLook, isAnyoneLooking } from './look-lock'
import { runLookThread } from './look-thread'
import { type RowStream, withStream } from './site-stream'
import {
  listTrailParts,
  lookedBackTo,
  readSiteRecord,
  type SiteRecord,
  type TrailPart,
  trailOf,
} from './trail'

const LOOK_EVERY_HOURS = 6
/** What changes by less is the same finding. */
const DIGEST_STEP_KG = 0.1

/** The matter: the same cause about the same entries, whatever its size becomes. */
function keyOf(gasId: string, { kind, cylinderIds, readingIds, fromMs }: Hypothesis): string {
  return [gasId, kind, ...[...cylinderIds].sort(), readingIds[0] ?? fromMs].join(' ')
}

function digestOf({ hypotheses }: Finding): string {
  const told = hypotheses.map(({ kind, how, cylinderIds, sizeKg, isEqualFirst }) => [
    kind,
    how,
    cylinderIds,
    isEqualFirst,
    Math.round(sizeKg / DIGEST_STEP_KG),
  ])
  return createHash('sha256').update(JSON.stringify(told)).digest('hex')
}

/** Full price of each size by what was last agreed, and whether gas may gather anywhere at the site. */
async function readPlace(siteId: string) {
  const [prices, enclosed] = await Promise.all([
    db.$queryRaw<{ sizeId: string; fillMinor: number }[]>`
      SELECT DISTINCT ON (size_id) size_id AS "sizeId", fill_minor AS "fillMinor" FROM prices
      WHERE valid_until IS NULL OR valid_until >= kerf_now()::date ORDER BY size_id, valid_from DESC, id`,
    db.$queryRaw<{ isEnclosed: boolean }[]>`
      SELECT coalesce(bool_or((facts ->> 'enclosed')::boolean), false) AS "isEnclosed" FROM areas WHERE site_id = ${siteId}::uuid`,
  ])
  return {
    fillOf: new Map(prices.map((price) => [price.sizeId, price.fillMinor])),
    isEnclosed: enclosed[0]?.isEnclosed ?? false,
  }
}

function rowOf(
  { part, trail, runId }: Readonly<{ part: TrailPart; trail: Trail; runId: string }>,
  place: Awaited<ReturnType<typeof readPlace>>,
  finding: Finding,
) {
  const { hypotheses, chance } = finding
  const [first] = hypotheses
  const reading = trail.readings.find((one) => one.id === first?.readingIds[0])
  if (!first || !reading) return []
  const { gasId, siteId } = part
  const price = {
    nominalKg: reading.nominalKg,
    fillMinor: place.fillOf.get(reading.sizeId) ?? null,
  }
  const isFuel = gasId !== 'oxygen'
  return [
    {
      id: uuidv7(),
      runId,
      siteId,
      gasId,
      key: keyOf(gasId, first),
      digest: digestOf(finding),
      fromAt: new Date(first.fromMs),
      toAt: new Date(first.toMs),
      kind: first.kind,
      danger: dangerOf(hypotheses, { isFuel, isEnclosed: place.isEnclosed }),
      sizeKg: first.sizeKg,
      sizeUKg: first.standardUncertaintyKg,
      costMinor: worthOf(first.sizeKg, price),
      chance,
      hypotheses: hypotheses.map((one) => ({ ...one })),
    },
  ]
}

type Look = Readonly<{ runId: string; falseAlarm: number; record: SiteRecord }>

/** Balances one gas at one site and keeps what is new of it; returns the ids of all that was found. */
async function lookThrough(part: TrailPart, look: Look): Promise<string[]> {
  const { runId, falseAlarm, record } = look
  const [trail, place] = [trailOf(record, part.gasId), await readPlace(part.siteId)]
  const { findings, opened } = explainTrail(trail, falseAlarm)
  const weeks = weeklyBalances(opened, opened.expected, trail.readings)
  // A look that another process took over begins again: what it kept is the same.
  await db.siteBalance.createMany({
    data: [{ id: uuidv7(), runId, ...part, weeks }],
    skipDuplicates: true,
  })
  const rows = findings.flatMap((finding) => rowOf({ part, trail, runId }, place, finding))
  if (rows.length === 0) return []
  return inTransaction(SYSTEM, 'finding:propose', async (tx) => {
    await tx.finding.createMany({ data: rows, skipDuplicates: true })
    const kept = await tx.finding.findMany({
      where: { OR: rows.map(({ key, digest }) => ({ key, digest })) },
      select: { id: true },
    })
    return kept.map((row) => row.id)
  })
}

/** Under the lock of the look: one that was begun and not finished was left by a process that is gone. */
async function claimRun(): Promise<string | null> {
  const rows = await db.$queryRaw<{ id: string }[]>`
    UPDATE audit_runs SET started_at = kerf_now(), parts_done = 0 WHERE finished_at IS NULL RETURNING id`
  return rows[0]?.id ?? null
}

const finish = (id: string, end: Readonly<{ failed: boolean; found: string[] }>) =>
  db.$executeRaw`
    UPDATE audit_runs SET finished_at = kerf_now(), failed = ${end.failed}, found = ${end.found}::uuid[] WHERE id = ${id}::uuid`

/** The record of each site in turn; the next is read while this one is worked out. */
async function* recordsOf(
  stream: RowStream,
  sites: readonly (readonly [string, TrailPart[]])[],
  since: Date,
): AsyncGenerator<readonly [SiteRecord, TrailPart[]]> {
  let ahead: Promise<SiteRecord> | undefined
  for (const [place, [siteId, own]] of sites.entries()) {
    const record = await (ahead ?? readSiteRecord(stream, { siteId, since }))
    const next = sites[place + 1]
    ahead = next && readSiteRecord(stream, { siteId: next[0], since })
    // It is awaited in its turn; until then its failure is nobody's.
    ahead?.catch(() => {})
    yield [record, own]
  }
}

async function lookAtAll(runId: string): Promise<string[]> {
  const now = await readNow()
  const since = lookedBackTo(now)
  const parts = await listTrailParts(since)
  await db.auditRun.update({
    where: { id: runId },
    data: { parts: parts.length },
    select: { id: true },
  })
  const falseAlarm = USUAL_FALSE_ALARM / Math.max(1, parts.length)
  const [found, figures]: [string[], Figure[]] = [[], []]
  let partsDone = 0
  await withStream(async (stream) => {
    const sites = groupBy(parts, (part) => part.siteId)
    for await (const [record, own] of recordsOf(stream, sites, since)) {
      for (const figure of await figuresOf(record)) figures.push(figure)
      for (const part of own) {
        found.push(...(await lookThrough(part, { runId, falseAlarm, record })))
        partsDone += 1
        await db.auditRun.update({
          where: { id: runId },
          data: { partsDone },
          select: { id: true },
        })
      }
    }
  })
  await keepFigures(figures, { runId, now })
  return found
}

/**
 * Looks through the whole record where somebody asked for it, site by site, away from any request.
 * The rate of false findings holds over all parts together.
 */
export async function lookWhereAsked(): Promise<'done' | 'nothing asked'> {
  return (await asOnlyLook(lookAlone)) ?? 'nothing asked'
}

async function lookAlone(): Promise<'done' | 'nothing asked'> {
  const id = await claimRun()
  if (!id) return 'nothing asked'
  try {
    await finish(id, { failed: false, found: await lookAtAll(id) })
  } catch (error) {
    log.warn({ err: error, runId: id }, 'findings.failed')
    await finish(id, { failed: true, found: [] })
  }
  return 'done'
}

/** Asks for a look; who asks while one is open gets that one. */
export async function askForLook(client: Tx, askedBy: string | null): Promise<void> {
  await client.$executeRaw`
    INSERT INTO audit_runs (id, asked_by) VALUES (${uuidv7()}::uuid, ${askedBy}::uuid) ON CONFLICT DO NOTHING`
}

async function askWhenDue(): Promise<void> {
  const [row] = await db.$queryRaw<{ isDue: boolean }[]>`
    SELECT coalesce(max(asked_at) < kerf_now() - make_interval(hours => ${LOOK_EVERY_HOURS}), true) AS "isDue" FROM audit_runs`
  if (row?.isDue ?? true) await askForLook(db, null)
}

/** Whether a look waits that nobody is at. */
async function isLookWaiting(): Promise<boolean> {
  const rows = await db.$queryRaw<
    { id: string }[]
  >`SELECT id FROM audit_runs WHERE finished_at IS NULL`
  return rows.length > 0 && !(await isAnyoneLooking())
}

const kept = globalThis as { kerfwatchLook?: Promise<unknown> | undefined }

/** Starts a look where one is due or asked for, in a thread of its own, and does not wait for it. */
export async function startLookWhenDue(): Promise<void> {
  if (kept.kerfwatchLook) return
  await askWhenDue()
  if (!(await isLookWaiting())) return
  kept.kerfwatchLook = runLookThread()
    .catch((error: unknown) => log.warn({ err: error }, 'findings.failed'))
    .finally(() => {
      kept.kerfwatchLook = undefined
    })
}
