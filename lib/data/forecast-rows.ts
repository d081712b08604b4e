import 'server-only'
import { db } from './client'
import { reserveOf, SIZE_COLUMNS, type SizeRow } from './contents'

/** Days of history that the baseline looks back on. */
export const HISTORY_DAYS = 90
/** Open jobs, over all sites asked for, whose cuts are counted: what a page reads stays bounded. */
export const MOST_OPEN_JOBS = 200

export type StockRow = Readonly<{
  site_id: string
  gas_id: string
  size_id: string
  full: number
  part: number
  usable_kg: number
}>

/** What is on each site by gas and size, above what is left in at change. */
async function readStock(
  siteIds: readonly string[],
  sizes: readonly SizeRow[],
): Promise<StockRow[]> {
  const reserves = sizes.map((size) => ({ size_id: size.id, kg: reserveOf(size).reserveKg }))
  return db.$queryRaw<StockRow[]>`
    SELECT c.site_id, c.gas_id, c.size_id,
           count(*) FILTER (WHERE c.status = 'full')::int AS full,
           count(*) FILTER (WHERE c.status IN ('partial', 'in_use'))::int AS part,
           coalesce(sum(greatest(0, c.contents_kg - r.kg)) FILTER (WHERE c.status IN ('full', 'partial', 'in_use')), 0)::float8 AS usable_kg
    FROM cylinders c
    JOIN jsonb_to_recordset(${JSON.stringify(reserves)}::jsonb) AS r(size_id text, kg float8) ON r.size_id = c.size_id
    WHERE c.site_id = ANY(${siteIds}::uuid[])
    GROUP BY c.site_id, c.gas_id, c.size_id`
}

export type EmptiedRow = Readonly<{
  site_id: string
  gas_id: string
  days_ago: number
  cylinders: number
}>

/** Cylinders taken off an outfit per site, gas and day. */
function readEmptied(siteIds: readonly string[]): Promise<EmptiedRow[]> {
  return db.$queryRaw<EmptiedRow[]>`
    SELECT e.site_id, c.gas_id, (kerf_now()::date - e.at::date)::int AS days_ago, count(*)::int AS cylinders
    FROM cylinder_events e JOIN cylinders c ON c.id = e.cylinder_id
    WHERE e.site_id = ANY(${siteIds}::uuid[]) AND e.kind = 'taken_off'
      AND e.at >= kerf_now() - make_interval(days => ${HISTORY_DAYS})
    GROUP BY 1, 2, 3`
}

export type PlannedRow = Readonly<{
  site_id: string
  job_id: string
  state: string
  from_days: number
  to_days: number
  chance: number
  crew_id: string | null
  fuel: string
  oxygen_kg: number
  oxygen_u_kg: number
  fuel_kg: number
  fuel_u_kg: number
  /** Share of its pieces still to cut, 0 to 1. */
  left: number
}>

/**
 * Jobs with their last kept estimate: those still to run, and those that ran in the history. The
 * first estimate is what was planned; of an open job the share of pieces that are left counts.
 */
function readPlanned(siteIds: readonly string[]): Promise<PlannedRow[]> {
  return db.$queryRaw<PlannedRow[]>`
    SELECT j.site_id, j.id AS job_id, j.state,
           (j.planned_start - kerf_now()::date)::int AS from_days, (j.planned_end - kerf_now()::date)::int AS to_days,
           j.chance_to_run AS chance, j.crew_id, e.fuel,
           e.oxygen_kg, e.oxygen_u_kg, e.fuel_kg, e.fuel_u_kg,
           coalesce((SELECT 1 - sum(least(u.done_count, u.count))::float8 / nullif(sum(u.count), 0)
                     FROM cuts u WHERE u.cut_list_id = e.cut_list_id), 0)::float8 AS left
    FROM (SELECT * FROM jobs
          WHERE site_id = ANY(${siteIds}::uuid[])
            AND (state IN ('planned', 'running') OR planned_end >= (kerf_now() - make_interval(days => ${HISTORY_DAYS}))::date)
          ORDER BY planned_start DESC, id DESC LIMIT ${MOST_OPEN_JOBS}) j
    JOIN LATERAL (SELECT * FROM estimates e WHERE e.job_id = j.id ORDER BY e.kept_at LIMIT 1) e ON true`
}

export type ArrivalRow = Readonly<{
  site_id: string
  size_id: string
  gas_id: string
  in_days: number
  quantity: number
}>

/** What is ordered and has not come. */
function readArrivals(siteIds: readonly string[]): Promise<ArrivalRow[]> {
  return db.$queryRaw<ArrivalRow[]>`
    SELECT o.site_id, l.size_id, s.gas_id, greatest(1, (o.due_on - kerf_now()::date) + 1)::int AS in_days, sum(l.quantity)::int AS quantity
    FROM orders o JOIN order_lines l ON l.order_id = o.id JOIN cylinder_sizes s ON s.id = l.size_id
    WHERE o.site_id = ANY(${siteIds}::uuid[]) AND o.state = 'confirmed'
    GROUP BY 1, 2, 3, 4`
}

export type ForecastRows = Awaited<ReturnType<typeof readForecastRows>>

/** Everything that the forecasts of these sites rest on, in five queries. */
export async function readForecastRows(siteIds: readonly string[]) {
  const sizes: SizeRow[] = await db.cylinderSize.findMany({
    select: SIZE_COLUMNS,
    orderBy: { id: 'asc' },
  })
  const [stock, emptied, planned, arrivals] = await Promise.all([
    readStock(siteIds, sizes),
    readEmptied(siteIds),
    readPlanned(siteIds),
    readArrivals(siteIds),
  ])
  return { sizes, stock, emptied, planned, arrivals }
}
