import 'server-only'
import { type GasCorrection, joinCorrections } from '@/lib/calc/gas-corrections'
import type { Trail } from '@/lib/calc/hypotheses-types'
import { type TrailCylinderRow, type TrailLogRow, trailFromRows } from '@/lib/calc/trail-rows'
import { db } from '../client'
import {
  type CutShareRow,
  type JobEstimateRow,
  readCutShares,
  readJobEstimates,
} from '../gas-audit-rows'
import { readCorrections } from './corrections'
import { type RowStream, readSiteCylinders, readSiteEvents, type SiteEventRow } from './site-stream'

/** How far back the record is looked through. */
const LOOK_BACK_DAYS = 400
const DAY_MS = 86_400_000
const JOBS_AT_ONCE = 200

/** One gas at one site: what is balanced at once. */
export type TrailPart = Readonly<{ siteId: string; gasId: string }>

export const lookedBackTo = (now: Date) => new Date(now.getTime() - LOOK_BACK_DAYS * DAY_MS)

export function listTrailParts(since: Date): Promise<TrailPart[]> {
  return db.$queryRaw<TrailPart[]>`
    SELECT DISTINCT t.site_id AS "siteId", c.gas_id AS "gasId"
    FROM (SELECT DISTINCT e.site_id, e.cylinder_id FROM cylinder_events e WHERE e.contents_kg IS NOT NULL AND e.at > ${since}) AS t
    JOIN cylinders c ON c.id = t.cylinder_id
    ORDER BY 1, 2`
}

function readLogs(siteId: string, since: Date): Promise<TrailLogRow[]> {
  return db.$queryRaw<TrailLogRow[]>`
    SELECT l.outfit_id AS "outfitId", l.job_id AS "jobId", j.crew_id AS "crewId", l.site_id AS "siteId", l.cut_id AS "cutId",
           coalesce(l.pieces, 0) AS pieces, kerf_ms(l.from_at)::float8 AS "fromMs", kerf_ms(l.to_at)::float8 AS "toMs"
    FROM hot_work_logs l JOIN jobs j ON j.id = l.job_id
    WHERE l.site_id = ${siteId}::uuid AND l.to_at > ${since}
      AND NOT EXISTS (SELECT 1 FROM hot_work_logs o WHERE o.corrects_id = l.id)
    ORDER BY l.from_at, l.id`
}

/** What one site's record says: read once, whatever is worked out from it. */
export type SiteRecord = Readonly<{
  siteId: string
  /** Every gas together, cylinder by cylinder. */
  events: readonly SiteEventRow[]
  cylinders: ReadonlyMap<string, readonly TrailCylinderRow[]>
  logs: readonly TrailLogRow[]
  estimates: readonly JobEstimateRow[]
  cuts: readonly CutShareRow[]
  corrections: readonly GasCorrection[]
}>

export async function readSiteRecord(
  stream: RowStream,
  at: Readonly<{ siteId: string; since: Date }>,
): Promise<SiteRecord> {
  const { siteId, since } = at
  const [logs, corrections] = await Promise.all([
    readLogs(siteId, since),
    readCorrections([siteId]),
  ])
  const events = await readSiteEvents(stream, at)
  const cylinders = await readSiteCylinders(stream, events)
  const jobIds = [
    ...new Set([
      ...logs.flatMap((log) => log.jobId ?? []),
      ...events.flatMap((event) => event.jobId ?? []),
    ]),
  ]
  const [estimates, cuts]: [JobEstimateRow[], CutShareRow[]] = [[], []]
  for (let from = 0; from < jobIds.length; from += JOBS_AT_ONCE) {
    const some = await readJobEstimates(jobIds.slice(from, from + JOBS_AT_ONCE))
    estimates.push(...some)
    for (const cut of await readCutShares(some.map((row) => row.estimate_id))) cuts.push(cut)
  }
  return { siteId, events, cylinders, logs, estimates, cuts, corrections }
}

/** One gas's readings and work at a site, as accepted corrections leave them. */
export function trailOf(record: SiteRecord, gasId: string): Trail {
  const { events, cylinders, logs, cuts } = record
  const { readings, explainedKg } = joinCorrections(record.corrections)
  return {
    ...trailFromRows({
      events,
      cylinders: cylinders.get(gasId) ?? [],
      logs,
      cuts,
      side: gasId === 'oxygen' ? 'oxygenKg' : 'fuelKg',
      corrections: readings,
    }),
    explainedKg,
  }
}
