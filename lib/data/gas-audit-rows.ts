import 'server-only'
import type { StayReading } from '@/lib/calc/job-spans'
import { db } from './client'

/** Readings that one page of the audit may read: a job of a month has some hundred. */
const MOST_READINGS = 8_000
/** A cylinder may have been hung on some days before the job's first reading. */
const MARGIN_DAYS = 14

export type AuditedReading = StayReading &
  Readonly<{
    eventId: string
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
  cylinder_id: string
  gas_id: string
  serial: string
  kind: string
  job_id: string | null
  at: Date
  contents_kg: number
  contents_u_kg: number
  gauge_kpa: number | null
  weight_kg: number | null
  temperature_k: number | null
  person: string
}

/** Every reading, while it hung on an outfit, of the cylinders that these jobs burned. */
export async function readJobReadings(jobIds: readonly string[]): Promise<AuditedReading[]> {
  const rows = await db.$queryRaw<ReadingRow[]>`
    WITH touched AS (
      SELECT cylinder_id, min(at) AS first_at, max(at) AS last_at FROM cylinder_events
      WHERE job_id = ANY(${jobIds}::uuid[]) GROUP BY cylinder_id)
    SELECT e.id, e.cylinder_id, c.gas_id, c.serial, e.kind, e.job_id, e.at, e.contents_kg, coalesce(e.contents_u_kg, 0)::float8 AS contents_u_kg,
           e.gauge_kpa, e.weight_kg, e.temperature_k, p.name AS person
    FROM touched t JOIN cylinder_events e ON e.cylinder_id = t.cylinder_id
      AND e.at BETWEEN t.first_at - make_interval(days => ${MARGIN_DAYS}) AND t.last_at + make_interval(days => ${MARGIN_DAYS})
    JOIN cylinders c ON c.id = e.cylinder_id JOIN people p ON p.id = e.person_id
    WHERE e.contents_kg IS NOT NULL AND e.outfit_id IS NOT NULL AND e.kind IN ('put_on', 'found_on', 'read', 'taken_off')
    ORDER BY e.cylinder_id, e.seq LIMIT ${MOST_READINGS}`
  return rows.map((row) => ({
    eventId: row.id,
    cylinderId: row.cylinder_id,
    gasId: row.gas_id,
    serial: row.serial,
    kind: row.kind,
    isPutOn: row.kind === 'put_on' || row.kind === 'found_on',
    isTakenOff: row.kind === 'taken_off',
    jobId: row.job_id,
    atMs: row.at.getTime(),
    gasKg: row.contents_kg,
    standardUncertaintyKg: row.contents_u_kg,
    gaugeKpa: row.gauge_kpa,
    weightKg: row.weight_kg,
    temperatureK: row.temperature_k,
    personName: row.person,
  }))
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
}>

/** Of each job the last estimate that was kept before its first log; the first one where none was. */
export function readJobEstimates(jobIds: readonly string[]): Promise<JobEstimateRow[]> {
  return db.$queryRaw<JobEstimateRow[]>`
    SELECT j.id AS job_id, e.id AS estimate_id, e.fuel, e.kept_at, e.oxygen_kg, e.oxygen_u_kg, e.fuel_kg, e.fuel_u_kg
    FROM unnest(${jobIds}::uuid[]) AS j(id)
    LEFT JOIN LATERAL (SELECT min(from_at) AS at FROM hot_work_logs l WHERE l.job_id = j.id) first_log ON true
    JOIN LATERAL (
      SELECT * FROM estimates e WHERE e.job_id = j.id
      ORDER BY (first_log.at IS NULL OR e.kept_at <= first_log.at) DESC,
               CASE WHEN first_log.at IS NULL OR e.kept_at <= first_log.at THEN e.kept_at END DESC, e.kept_at
      LIMIT 1) e ON true`
}
