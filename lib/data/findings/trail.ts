import 'server-only'
import { joinCorrections } from '@/lib/calc/gas-corrections'
import type { Trail } from '@/lib/calc/hypotheses-types'
import {
  type TrailCylinderRow,
  type TrailEventRow,
  type TrailLogRow,
  trailFromRows,
} from '@/lib/calc/trail-rows'
import { db } from '../client'
import { readCutShares, readJobEstimates } from '../gas-audit-rows'
import { readCorrections } from './corrections'

/** How far back the record is looked through. */
const LOOK_BACK_DAYS = 400
const JOBS_AT_ONCE = 200

/** One gas at one site: what is looked through at once. */
export type TrailPart = Readonly<{ siteId: string; gasId: string }>

export function listTrailParts(): Promise<TrailPart[]> {
  return db.$queryRaw<TrailPart[]>`
    SELECT DISTINCT e.site_id AS "siteId", c.gas_id AS "gasId"
    FROM cylinder_events e JOIN cylinders c ON c.id = e.cylinder_id
    WHERE e.contents_kg IS NOT NULL AND e.at > kerf_now() - make_interval(days => ${LOOK_BACK_DAYS})
    ORDER BY 1, 2`
}

/**
 * Everything that tells contents at the site. A cylinder that came from another site begins here with the
 * last that was known of it there.
 */
function readEvents({ siteId }: TrailPart): Promise<TrailEventRow[]> {
  return db.$queryRaw<TrailEventRow[]>`
    WITH own AS (
      SELECT DISTINCT cylinder_id FROM cylinder_events
      WHERE site_id = ${siteId}::uuid AND at > kerf_now() - make_interval(days => ${LOOK_BACK_DAYS})),
    told AS (
      SELECT e.*, lead(e.site_id) OVER (PARTITION BY e.cylinder_id ORDER BY e.seq) AS next_site_id
      FROM own JOIN cylinder_events e ON e.cylinder_id = own.cylinder_id
      WHERE e.at > kerf_now() - make_interval(days => ${LOOK_BACK_DAYS})
        AND (e.contents_kg IS NOT NULL OR e.marked_empty OR e.kind IN ('received', 'filled'))
        AND NOT EXISTS (SELECT 1 FROM cylinder_events c WHERE c.cylinder_id = e.cylinder_id AND c.corrects_id = e.id))
    SELECT id, cylinder_id AS "cylinderId", CASE WHEN site_id = ${siteId}::uuid THEN kind ELSE 'filled' END AS kind,
           ${siteId}::text AS "siteId", CASE WHEN site_id = ${siteId}::uuid THEN outfit_id END AS "outfitId",
           kerf_ms(at)::float8 AS "atMs", gauge_kpa AS "gaugeKpa", weight_kg AS "weightKg", temperature_k AS "temperatureK",
           contents_kg AS "contentsKg", contents_u_kg AS "contentsUKg", marked_empty AS "markedEmpty"
    FROM told WHERE site_id = ${siteId}::uuid OR next_site_id = ${siteId}::uuid
    ORDER BY cylinder_id, seq`
}

async function readCylinders({ siteId, gasId }: TrailPart): Promise<TrailCylinderRow[]> {
  const rows = await db.cylinder.findMany({
    where: { gasId, events: { some: { siteId } } },
    select: {
      id: true,
      tareKg: true,
      size: {
        select: {
          id: true,
          gasId: true,
          nominalKg: true,
          waterVolumeL: true,
          fullGaugeKpa: true,
          heelKg: true,
          changeAtGaugeKpa: true,
        },
      },
    },
  })
  return rows.map(({ id, tareKg, size }) => ({ id, tareKg, size }))
}

function readLogs(siteId: string): Promise<TrailLogRow[]> {
  return db.$queryRaw<TrailLogRow[]>`
    SELECT l.outfit_id AS "outfitId", l.job_id AS "jobId", j.crew_id AS "crewId", l.site_id AS "siteId", l.cut_id AS "cutId",
           coalesce(l.pieces, 0) AS pieces, kerf_ms(l.from_at)::float8 AS "fromMs", kerf_ms(l.to_at)::float8 AS "toMs"
    FROM hot_work_logs l JOIN jobs j ON j.id = l.job_id
    WHERE l.site_id = ${siteId}::uuid AND l.to_at > kerf_now() - make_interval(days => ${LOOK_BACK_DAYS})
      AND NOT EXISTS (SELECT 1 FROM hot_work_logs o WHERE o.corrects_id = l.id)
    ORDER BY l.from_at, l.id`
}

async function readCuts(jobIds: readonly string[]) {
  const cuts = []
  for (let from = 0; from < jobIds.length; from += JOBS_AT_ONCE) {
    const estimates = await readJobEstimates(jobIds.slice(from, from + JOBS_AT_ONCE))
    cuts.push(...(await readCutShares(estimates.map((row) => row.estimate_id))))
  }
  return cuts
}

/** One gas's readings and work at a site, as accepted corrections leave them. */
export async function readTrail(part: TrailPart): Promise<Trail> {
  const [events, cylinders, logs, corrections] = await Promise.all([
    readEvents(part),
    readCylinders(part),
    readLogs(part.siteId),
    readCorrections([part.siteId]),
  ])
  const { readings, explainedKg } = joinCorrections(corrections)
  const cuts = await readCuts([...new Set(logs.flatMap((log) => log.jobId ?? []))])
  const side = part.gasId === 'oxygen' ? 'oxygenKg' : 'fuelKg'
  return {
    ...trailFromRows({ events, cylinders, logs, cuts, side, corrections: readings }),
    explainedKg,
  }
}
