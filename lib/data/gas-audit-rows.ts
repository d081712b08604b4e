import 'server-only'
import { type CorrectableEvent, putRight } from '@/lib/calc/corrected-events'
import type { EstimatedCut, LoggedPieces } from '@/lib/calc/done-share'
import { correctStays } from '@/lib/calc/gas-corrections'
import type { StayReading } from '@/lib/calc/job-spans'
import { MOST_CUTS } from '@/lib/schemas/sheet-save'
import { db } from './client'
import { readCorrections } from './findings/corrections'

/** Rows that one statement brings; a job of a month has some hundred, and what is more comes with the next. */
const ROWS_AT_ONCE = 8_000
const NO_ID = '00000000-0000-0000-0000-000000000000'

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
    /** The swap in which it was hung on or taken off. */
    swapId: string | null
    /** Contents as the record has them, before what a person accepted of findings. */
    recordedKg: number
    /** Who put the entry right afterwards, and what it said before. */
    putRight: PutRight | null
  }>

export type PutRight = Readonly<{ personName: string; at: Date; contentsKg: number | null }>

interface ReadingRow {
  id: string
  seq: number
  swap_id: string | null
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

type PlacedRow = Readonly<{ cylinder_id: string; seq: number }>

/** All rows of a read by cylinder and place, however many there are. */
async function everyRow<T extends PlacedRow>(
  read: (after: PlacedRow) => Promise<T[]>,
  rowsAtOnce: number,
): Promise<T[]> {
  const rows: T[] = []
  let after: PlacedRow = { cylinder_id: NO_ID, seq: -1 }
  for (let isMore = true; isMore; ) {
    const page = await read(after)
    for (const row of page) rows.push(row)
    after = page.at(-1) ?? after
    isMore = page.length === rowsAtOnce
  }
  return rows
}

type CorrectionRow = CorrectableEvent & PlacedRow & Readonly<{ person: string; at: Date }>

const readPuttingRight = (cylinderIds: readonly string[], rowsAtOnce: number) =>
  everyRow(
    (after) => db.$queryRaw<CorrectionRow[]>`
      SELECT e.id, e.cylinder_id, e.seq::int AS seq, e.corrects_id AS "correctsId", e.gauge_kpa AS "gaugeKpa", e.weight_kg AS "weightKg",
             e.temperature_k AS "temperatureK", e.contents_kg AS "contentsKg", e.contents_u_kg AS "contentsUKg",
             e.marked_empty AS "markedEmpty", e.at, p.name AS person
      FROM cylinder_events e JOIN people p ON p.id = e.person_id
      WHERE e.cylinder_id = ANY(${cylinderIds}::uuid[]) AND e.corrects_id IS NOT NULL
        AND (e.cylinder_id, e.seq) > (${after.cylinder_id}::uuid, ${after.seq}::int)
      ORDER BY e.cylinder_id, e.seq LIMIT ${rowsAtOnce}`,
    rowsAtOnce,
  )

/** Rows as later entries put them right, each with who did; what was put right to no contents tells nothing of use. */
async function putRightOf(
  rows: readonly ReadingRow[],
  rowsAtOnce: number,
): Promise<(ReadingRow & { putRight: PutRight | null })[]> {
  const cylinderIds = [...new Set(rows.map((row) => row.cylinder_id))]
  const corrections = await readPuttingRight(cylinderIds, rowsAtOnce)
  const isRow = (one: CorrectableEvent): one is ReadingRow =>
    one.correctsId === null && one.contentsKg !== null
  const right = putRight<CorrectableEvent>([...rows, ...corrections]).filter(isRow)
  const lastOf = lastCorrections(corrections)
  const written = new Map(rows.map((row) => [row.id, row.contentsKg]))
  return right.map((row) => {
    const last = lastOf.get(row.id)
    return {
      ...row,
      putRight: last
        ? { personName: last.person, at: last.at, contentsKg: written.get(row.id) ?? null }
        : null,
    }
  })
}

/** The last correction of each first entry; one may correct another. */
function lastCorrections(corrections: readonly CorrectionRow[]): Map<string, CorrectionRow> {
  const firstOf = new Map<string, string>()
  const lastOf = new Map<string, CorrectionRow>()
  for (const one of corrections) {
    const first = firstOf.get(one.correctsId ?? '') ?? one.correctsId ?? ''
    firstOf.set(one.id, first)
    lastOf.set(first, one)
  }
  return lastOf
}

/**
 * Every reading, while it hung on an outfit, of the cylinders that these jobs burned: whole stays,
 * from put on to taken off, so that a job's number does not depend on what else is asked for; as accepted
 * corrections leave them.
 */
export async function readJobReadings(
  jobIds: readonly string[],
  rowsAtOnce = ROWS_AT_ONCE,
): Promise<AuditedReading[]> {
  const rows = await everyRow((after) => readStays(jobIds, after, rowsAtOnce), rowsAtOnce)
  const right = await putRightOf(rows, rowsAtOnce)
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
    swapId: row.swap_id,
    recordedKg: row.contentsKg,
    putRight: row.putRight,
  }))
  const siteIds = [...new Set(rows.map((row) => row.site_id))]
  return correctStays(readings, await readCorrections(siteIds))
}

const readStays = (jobIds: readonly string[], after: PlacedRow, rowsAtOnce: number) =>
  db.$queryRaw<ReadingRow[]>`
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
    SELECT e.id, e.seq::int AS seq, e.swap_id, e.site_id, e.outfit_id, e.cylinder_id, c.gas_id, c.serial, e.kind, e.job_id, e.at, p.name AS person, NULL AS "correctsId",
           e.contents_kg AS "contentsKg", e.contents_u_kg AS "contentsUKg", e.gauge_kpa AS "gaugeKpa", e.weight_kg AS "weightKg",
           e.temperature_k AS "temperatureK", e.marked_empty AS "markedEmpty"
    FROM stays s JOIN cylinder_events e ON e.cylinder_id = s.cylinder_id
      AND e.seq >= s.from_seq AND (s.to_seq IS NULL OR e.seq <= s.to_seq)
    JOIN cylinders c ON c.id = e.cylinder_id JOIN people p ON p.id = e.person_id
    WHERE e.contents_kg IS NOT NULL AND e.outfit_id IS NOT NULL AND e.kind IN ('put_on', 'found_on', 'read', 'taken_off')
      AND (e.cylinder_id, e.seq) > (${after.cylinder_id}::uuid, ${after.seq}::int)
    ORDER BY e.cylinder_id, e.seq LIMIT ${rowsAtOnce}`

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

/** Of one job: a shift has some ten. */
const MOST_LOGS = 20_000

export type AuditLogRow = Readonly<{
  outfitId: string | null
  cutId: string | null
  from: Date
  to: Date
  pieces: number
}>

/** Work logged on a job in the order of its hours, without what a later entry corrected. */
export const readJobLogs = (jobId: string): Promise<AuditLogRow[]> =>
  db.$queryRaw<AuditLogRow[]>`
    SELECT l.outfit_id AS "outfitId", l.cut_id AS "cutId", l.from_at AS "from", l.to_at AS "to", l.pieces
    FROM hot_work_logs l
    WHERE l.job_id = ${jobId}::uuid AND NOT EXISTS (SELECT 1 FROM hot_work_logs o WHERE o.job_id = l.job_id AND o.corrects_id = l.id)
    ORDER BY l.from_at, l.id LIMIT ${MOST_LOGS}`
