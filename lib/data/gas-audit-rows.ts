import 'server-only'
import { type CorrectableEvent, putRight } from '@/lib/calc/corrected-events'
import type { EstimatedCut, LoggedPieces } from '@/lib/calc/done-share'
import { correctStays } from '@/lib/calc/gas-corrections'
import type { StayReading } from '@/lib/calc/job-spans'
import { db } from './client'
import { readCorrections } from './findings/corrections'

/** Readings that one page of the audit may read: a job of a month has some hundred. */
const MOST_READINGS = 8_000

export type AuditedReading = StayReading &
  Readonly<{
    eventId: string
    outfitId: string | null
    gasId: string
    serial: string
    kind: string
    personName: string
    gaugeKpa: number | null
    weightKg: number | null
    temperatureK: number | null
  }>

interface ReadingRow {
  id: string
  site_id: string
  outfit_id: string | null
  cylinder_id: string
  gas_id: string
  serial: string
  kind: string
  job_id: string | null
  at: Date
  person: string
  correctsId: null
  contentsKg: number
  contentsUKg: number | null
  gaugeKpa: number | null
  weightKg: number | null
  temperatureK: number | null
  markedEmpty: boolean
}

/** Rows as later entries put them right; what was put right to no contents tells nothing of use. */
async function putRightOf(rows: readonly ReadingRow[]): Promise<ReadingRow[]> {
  const cylinderIds = [...new Set(rows.map((row) => row.cylinder_id))]
  const corrections = await db.$queryRaw<(CorrectableEvent & { cylinder_id: string })[]>`
    SELECT id, cylinder_id, corrects_id AS "correctsId", gauge_kpa AS "gaugeKpa", weight_kg AS "weightKg", temperature_k AS "temperatureK",
           contents_kg AS "contentsKg", contents_u_kg AS "contentsUKg", marked_empty AS "markedEmpty"
    FROM cylinder_events WHERE cylinder_id = ANY(${cylinderIds}::uuid[]) AND corrects_id IS NOT NULL
    ORDER BY cylinder_id, seq LIMIT ${MOST_READINGS}`
  if (corrections.length === 0) return [...rows]
  const isRow = (one: CorrectableEvent): one is ReadingRow =>
    one.correctsId === null && one.contentsKg !== null
  return putRight<CorrectableEvent>([...rows, ...corrections]).filter(isRow)
}

/**
 * Every reading, while it hung on an outfit, of the cylinders that these jobs burned: whole stays,
 * from put on to taken off, so that a job's number does not depend on what else is asked for; as accepted
 * corrections leave them.
 */
export async function readJobReadings(jobIds: readonly string[]): Promise<AuditedReading[]> {
  const rows = await db.$queryRaw<ReadingRow[]>`
    WITH touched AS (
      SELECT cylinder_id, min(seq) AS first_seq, max(seq) AS last_seq FROM cylinder_events
      WHERE job_id = ANY(${jobIds}::uuid[]) GROUP BY cylinder_id),
    stays AS (
      SELECT t.cylinder_id,
             coalesce((SELECT max(e.seq) FROM cylinder_events e WHERE e.cylinder_id = t.cylinder_id
                       AND e.seq <= t.first_seq AND e.kind IN ('put_on', 'found_on')), t.first_seq) AS from_seq,
             (SELECT min(e.seq) FROM cylinder_events e WHERE e.cylinder_id = t.cylinder_id
              AND e.seq >= t.last_seq AND e.kind = 'taken_off') AS to_seq
      FROM touched t)
    SELECT e.id, e.site_id, e.outfit_id, e.cylinder_id, c.gas_id, c.serial, e.kind, e.job_id, e.at, p.name AS person, NULL AS "correctsId",
           e.contents_kg AS "contentsKg", e.contents_u_kg AS "contentsUKg", e.gauge_kpa AS "gaugeKpa", e.weight_kg AS "weightKg",
           e.temperature_k AS "temperatureK", e.marked_empty AS "markedEmpty"
    FROM stays s JOIN cylinder_events e ON e.cylinder_id = s.cylinder_id
      AND e.seq >= s.from_seq AND (s.to_seq IS NULL OR e.seq <= s.to_seq)
    JOIN cylinders c ON c.id = e.cylinder_id JOIN people p ON p.id = e.person_id
    WHERE e.contents_kg IS NOT NULL AND e.outfit_id IS NOT NULL AND e.kind IN ('put_on', 'found_on', 'read', 'taken_off')
    ORDER BY e.cylinder_id, e.seq LIMIT ${MOST_READINGS}`
  const right = await putRightOf(rows)
  const readings = right.map((row) => ({
    eventId: row.id,
    outfitId: row.outfit_id,
    cylinderId: row.cylinder_id,
    gasId: row.gas_id,
    serial: row.serial,
    kind: row.kind,
    isPutOn: row.kind === 'put_on' || row.kind === 'found_on',
    isTakenOff: row.kind === 'taken_off',
    jobId: row.job_id,
    atMs: row.at.getTime(),
    gasKg: row.contentsKg,
    standardUncertaintyKg: row.contentsUKg ?? 0,
    gaugeKpa: row.gaugeKpa,
    weightKg: row.weightKg,
    temperatureK: row.temperatureK,
    personName: row.person,
  }))
  const siteIds = [...new Set(rows.map((row) => row.site_id))]
  return correctStays(readings, await readCorrections(siteIds))
}

export type JobEstimateRow = Readonly<{
  job_id: string
  estimate_id: string
  fuel: string
  kept_at: Date
  oxygen_kg: number
  oxygen_u_kg: number
  fuel_kg: number
  fuel_u_kg: number
  /** That the estimate went by; null where it went by the table alone. */
  crew_factor: number | null
}>

/** Of each job the last estimate that was kept before its first log; the first one where none was. */
export function readJobEstimates(jobIds: readonly string[]): Promise<JobEstimateRow[]> {
  return db.$queryRaw<JobEstimateRow[]>`
    SELECT j.id AS job_id, e.id AS estimate_id, e.fuel, e.kept_at, e.oxygen_kg, e.oxygen_u_kg, e.fuel_kg, e.fuel_u_kg,
           (e.inputs #>> '{crewFactor,mean}')::float8 AS crew_factor
    FROM unnest(${jobIds}::uuid[]) AS j(id)
    LEFT JOIN LATERAL (SELECT min(from_at) AS at FROM hot_work_logs l WHERE l.job_id = j.id) first_log ON true
    JOIN LATERAL (
      SELECT * FROM estimates e WHERE e.job_id = j.id
      ORDER BY (first_log.at IS NULL OR e.kept_at <= first_log.at) DESC,
               CASE WHEN first_log.at IS NULL OR e.kept_at <= first_log.at THEN e.kept_at END DESC, e.kept_at
      LIMIT 1) e ON true`
}

export type CutShareRow = EstimatedCut & Readonly<{ jobId: string }>

const MOST_CUTS = 500

/** What estimates put on each of their cuts, and for how many pieces. */
export function readCutShares(estimateIds: readonly string[]): Promise<CutShareRow[]> {
  return db.$queryRaw<CutShareRow[]>`
    SELECT e.job_id AS "jobId", c ->> 'cutId' AS "cutId", (c ->> 'remainingCount')::int AS count,
           (c -> 'oxygenKg' ->> 'value')::float8 AS "oxygenKg", (c -> 'fuelKg' ->> 'value')::float8 AS "fuelKg"
    FROM estimates e CROSS JOIN LATERAL jsonb_array_elements(e.result -> 'cuts') AS c
    WHERE e.id = ANY(${estimateIds}::uuid[])
    LIMIT ${MOST_CUTS * estimateIds.length}`
}

export type DonePiecesRow = LoggedPieces & Readonly<{ jobId: string }>

/** Pieces done of each cut of these jobs, without what a later entry corrected. */
export function readDonePieces(jobIds: readonly string[]): Promise<DonePiecesRow[]> {
  return db.$queryRaw<DonePiecesRow[]>`
    SELECT l.job_id AS "jobId", l.cut_id AS "cutId", sum(l.pieces)::int AS pieces
    FROM hot_work_logs l
    WHERE l.job_id = ANY(${jobIds}::uuid[])
      AND NOT EXISTS (SELECT 1 FROM hot_work_logs o WHERE o.job_id = l.job_id AND o.corrects_id = l.id)
    GROUP BY l.job_id, l.cut_id`
}

export type AuditLogRow = Readonly<{
  outfitId: string | null
  cutId: string | null
  from: Date
  to: Date
  pieces: number
}>

/** Work logged on a job, without what a later entry corrected. */
export async function readJobLogs(jobId: string): Promise<AuditLogRow[]> {
  const rows = await db.hotWorkLog.findMany({
    where: { jobId },
    orderBy: { fromAt: 'asc' },
    take: 500,
    select: {
      id: true,
      correctsId: true,
      outfitId: true,
      cutId: true,
      fromAt: true,
      toAt: true,
      pieces: true,
    },
  })
  const corrected = new Set(rows.map((row) => row.correctsId))
  return rows
    .filter((row) => !corrected.has(row.id))
    .map(({ outfitId, cutId, fromAt, toAt, pieces }) => ({
      outfitId,
      cutId,
      from: fromAt,
      to: toAt,
      pieces,
    }))
}
