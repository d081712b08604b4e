import 'server-only'
import type { DrawnEntry } from '@/lib/calc/gas-drawn'
import { db } from './client'

const DAY_MS = 86_400_000
type Period = Readonly<{ fromDay: number; toDay: number }>
const dateOf = (day: number) => new Date(day * DAY_MS)

export type CostEntry = DrawnEntry & Readonly<{ sizeId: string; supplierId: string | null }>

/** The whole record of every cylinder that hung on an outfit of the site in the period, or of these alone. */
export function readDrawnEntries(
  siteId: string,
  zone: string,
  { fromDay, toDay, only }: Period & Readonly<{ only: readonly string[] | null }>,
): Promise<CostEntry[]> {
  const mine = only === null ? null : [...only]
  return db.$queryRaw<CostEntry[]>`
    WITH hung AS (
      SELECT DISTINCT e.cylinder_id FROM cylinder_events e
      WHERE e.site_id = ${siteId}::uuid AND e.outfit_id IS NOT NULL AND (${mine}::uuid[] IS NULL OR e.cylinder_id = ANY(${mine}::uuid[]))
        AND e.at >= ${dateOf(fromDay)}::timestamptz - interval '1 day' AND e.at < ${dateOf(toDay)}::timestamptz + interval '2 days')
    SELECT e.cylinder_id AS "cylinderId", ((e.at AT TIME ZONE ${zone})::date - DATE '1970-01-01') AS day, e.site_id AS "siteId",
           e.job_id AS "jobId", e.kind, e.contents_kg AS "contentsKg", e.marked_empty AS "markedEmpty",
           z.nominal_kg * c.holds AS "nominalKg", z.heel_kg * c.holds AS "heelKg", c.size_id AS "sizeId", c.supplier_id AS "supplierId"
    FROM hung h JOIN cylinder_events e ON e.cylinder_id = h.cylinder_id
    JOIN cylinders c ON c.id = e.cylinder_id JOIN cylinder_sizes z ON z.id = c.size_id
    ORDER BY e.cylinder_id, e.seq`
}

export type LostRow = Readonly<{
  supplierId: string | null
  sizeId: string
  /** Of the entry before: what it hung for when it was lost. */
  jobId: string | null
  /** The day it was lost, of one that was found again too: what is given back is what was paid. */
  day: number
  count: 1 | -1
}>

/** Rented cylinders that were lost at the site in the period, and found again after they had been lost. */
export function readLost(
  siteId: string,
  zone: string,
  { fromDay, toDay }: Period,
): Promise<LostRow[]> {
  return db.$queryRaw<LostRow[]>`
    WITH told AS (
      SELECT e.cylinder_id, e.kind, e.site_id, e.at, e.seq,
             lag(e.kind) OVER w AS kind_before, lag(e.site_id) OVER w AS site_before, lag(e.at) OVER w AS at_before, lag(e.job_id) OVER w AS job_before
      FROM cylinder_events e
      WHERE e.cylinder_id IN (SELECT x.cylinder_id FROM cylinder_events x WHERE x.kind = 'lost' AND x.site_id = ${siteId}::uuid)
      WINDOW w AS (PARTITION BY e.cylinder_id ORDER BY e.seq))
    SELECT c.supplier_id AS "supplierId", c.size_id AS "sizeId", CASE WHEN t.kind = 'lost' THEN t.job_before END AS "jobId",
           (CASE WHEN t.kind = 'lost' THEN t.at ELSE t.at_before END AT TIME ZONE ${zone})::date - DATE '1970-01-01' AS day,
           CASE WHEN t.kind = 'lost' THEN 1 ELSE -1 END AS count
    FROM told t JOIN cylinders c ON c.id = t.cylinder_id
    WHERE c.ownership = 'rented' AND (t.at AT TIME ZONE ${zone})::date BETWEEN ${dateOf(fromDay)}::date AND ${dateOf(toDay)}::date
      AND (t.kind = 'lost' AND t.site_id = ${siteId}::uuid OR t.kind_before = 'lost' AND t.site_before = ${siteId}::uuid)`
}

/** What a kilogram cost on a day: its own supplier's price of that size, else the lowest that anybody asked. */
export async function readPrices(): Promise<
  (of: Pick<CostEntry, 'sizeId' | 'supplierId'>, day: number) => number | null
> {
  const rows = await db.$queryRaw<
    { supplierId: string; sizeId: string; from: number; until: number; minorPerKg: number }[]
  >`
    SELECT p.supplier_id AS "supplierId", p.size_id AS "sizeId", p.valid_from - DATE '1970-01-01' AS "from",
           coalesce(p.valid_until, DATE '9999-12-31') - DATE '1970-01-01' AS until, p.fill_minor / z.nominal_kg AS "minorPerKg"
    FROM prices p JOIN cylinder_sizes z ON z.id = p.size_id ORDER BY p.fill_minor`
  return ({ sizeId, supplierId }, day) => {
    const asked = rows.filter((row) => row.sizeId === sizeId && row.from <= day && day <= row.until)
    const own = asked.find((row) => row.supplierId === supplierId) ?? asked[0]
    return own?.minorPerKg ?? null
  }
}

export type JobDays = Readonly<{ jobId: string; cylinderId: string; days: number[] }>

/** Days on which a cylinder hung on an outfit that a job's permit had; a day is one job's, the first's. */
export function readJobDays(
  siteId: string,
  zone: string,
  { fromDay, toDay }: Period,
): Promise<JobDays[]> {
  return db.$queryRaw<JobDays[]>`
    WITH permit_days AS (
      SELECT DISTINCT ON (p.outfit_id, d.day) p.outfit_id, p.job_id, d.day::date AS day
      FROM permits p, generate_series(
        greatest((p.issued_at AT TIME ZONE ${zone})::date, ${dateOf(fromDay)}::date)::timestamp,
        least((coalesce(p.closed_at, kerf_now()) AT TIME ZONE ${zone})::date, ${dateOf(toDay)}::date)::timestamp, interval '1 day') AS d(day)
      WHERE p.site_id = ${siteId}::uuid AND p.issued_at IS NOT NULL AND p.outfit_id IS NOT NULL
        AND p.issued_at < ${dateOf(toDay)}::timestamptz + interval '2 days' AND (p.closed_at IS NULL OR p.closed_at > ${dateOf(fromDay)}::timestamptz - interval '1 day')
      ORDER BY p.outfit_id, d.day, p.issued_at, p.id),
    hung AS (
      SELECT e.cylinder_id, e.outfit_id, (e.at AT TIME ZONE ${zone})::date AS from_day,
             (SELECT (min(x.at) AT TIME ZONE ${zone})::date FROM cylinder_events x
              WHERE x.cylinder_id = e.cylinder_id AND x.seq > e.seq AND x.kind IN ('taken_off', 'lost')) AS to_day
      FROM cylinder_events e
      WHERE e.outfit_id IN (SELECT outfit_id FROM permit_days) AND e.kind IN ('put_on', 'found_on'))
    SELECT job_id AS "jobId", cylinder_id AS "cylinderId", array_agg(day - DATE '1970-01-01') AS days
    FROM (SELECT DISTINCT ON (h.cylinder_id, d.day) h.cylinder_id, d.day, d.job_id
          FROM permit_days d JOIN hung h ON h.outfit_id = d.outfit_id AND d.day >= h.from_day AND d.day <= coalesce(h.to_day, d.day)
          ORDER BY h.cylinder_id, d.day, h.from_day) AS once
    GROUP BY 1, 2`
}

/** Cylinders that a job's permits named in their entries. */
export async function readJobCylinders(jobId: string): Promise<string[]> {
  const rows = await db.$queryRaw<{ id: string }[]>`
    SELECT DISTINCT cylinder_id AS id FROM cylinder_events WHERE job_id = ${jobId}::uuid`
  return rows.map((row) => row.id)
}
