import 'server-only'
import { db } from './client'
import { reserveOf, SIZE_COLUMNS, type SizeRow } from './contents'

/** Days of history that the baseline looks back on. */
export const HISTORY_DAYS = 90
/** Jobs over all sites asked for, the open ones first: what a page reads stays bounded. */
const MOST_JOBS = 400

export type StockRow = Readonly<{
  site_id: string
  gas_id: string
  size_id: string
  full: number
  part: number
  usable_kg: number
}>

/**
 * What is on each site by gas and size, above what is left in at change. Full and partial ones are
 * counted together: one that holds less than its size leaves in at change takes from the rest, so
 * that a size whose heel is lower errs to the short side.
 */
async function readStock(
  siteIds: readonly string[],
  sizes: readonly SizeRow[],
): Promise<StockRow[]> {
  const reserves = sizes.map((size) => ({ size_id: size.id, kg: reserveOf(size).reserveKg }))
  return db.$queryRaw<StockRow[]>`
    WITH r AS (SELECT * FROM jsonb_to_recordset(${JSON.stringify(reserves)}::jsonb) AS r(size_id text, kg float8)),
    hung AS (
      SELECT c.site_id, c.size_id, sum(greatest(0, c.contents_kg - r.kg)) AS kg FROM cylinders c JOIN r ON r.size_id = c.size_id
      WHERE c.site_id = ANY(${siteIds}::uuid[]) AND c.outfit_id IS NOT NULL GROUP BY c.site_id, c.size_id)
    SELECT s.site_id, s.gas_id, s.size_id,
           coalesce(sum(s.cylinders) FILTER (WHERE s.status = 'full'), 0)::int AS full,
           coalesce(sum(s.cylinders) FILTER (WHERE s.status IN ('partial', 'in_use')), 0)::int AS part,
           (greatest(0, coalesce(sum(s.contents_kg::float8 - s.cylinders * r.kg) FILTER (WHERE s.status IN ('full', 'partial')), 0)) + coalesce(max(h.kg), 0))::float8 AS usable_kg
    FROM site_stock s JOIN r ON r.size_id = s.size_id LEFT JOIN hung h ON h.site_id = s.site_id AND h.size_id = s.size_id
    WHERE s.site_id = ANY(${siteIds}::uuid[]) AND s.cylinders > 0
    GROUP BY s.site_id, s.gas_id, s.size_id`
}

export type EmptiedRow = Readonly<{
  site_id: string
  gas_id: string
  /** Side by side: how many days ago, and how many cylinders. */
  days_ago: readonly number[]
  cylinders: readonly number[]
}>

export type ArrivalRow = Readonly<{
  site_id: string
  size_id: string
  gas_id: string
  in_days: number
  quantity: number
}>

export type PlannedRow = Readonly<{
  site_id: string
  job_id: string
  state: string
  from_days: number
  to_days: number
  chance: number
  crew_id: string | null
  fuel: string
  /** As first kept: what was planned for the whole job. */
  planned_oxygen_kg: number
  planned_fuel_kg: number
  /** As last kept: what counts from now on, scaled by `left`. */
  oxygen_kg: number
  oxygen_u_kg: number
  fuel_kg: number
  fuel_u_kg: number
  /** How the crew ran by what was known when it was kept; null where it is the table as it stands. */
  crew_factor: number | null
  /** Of the last estimate, the share whose cuts are still to do; weighed by their oxygen. */
  left: number
}>

/**
 * Jobs that are still to run, and those that ran in the history, with their first and last estimate.
 * An estimate covers what was to do when it was kept, so what is left of it is weighed cut by cut; one
 * that lists no cuts is scaled by the share of pieces to do.
 */
function readPlanned(siteIds: readonly string[]): Promise<PlannedRow[]> {
  return db.$queryRaw<PlannedRow[]>`
    SELECT j.site_id, j.id AS job_id, j.state, j.chance_to_run AS chance, j.crew_id, l.fuel,
           (j.planned_start - j.today)::int AS from_days, (j.planned_end - j.today)::int AS to_days,
           f.oxygen_kg AS planned_oxygen_kg, f.fuel_kg AS planned_fuel_kg,
           l.oxygen_kg, l.oxygen_u_kg, l.fuel_kg, l.fuel_u_kg, l.crew_factor,
           CASE WHEN j.is_open THEN coalesce(by_cut.left, by_piece.left, 0) ELSE 0 END::float8 AS left
    FROM (SELECT j.*, (kerf_now() AT TIME ZONE s.zone)::date AS today, j.state IN ('planned', 'running') AS is_open
          FROM jobs j JOIN sites s ON s.id = j.site_id
          WHERE j.site_id = ANY(${siteIds}::uuid[]) AND j.state <> 'dropped'
            AND (j.state IN ('planned', 'running') OR j.planned_end >= (kerf_now() - make_interval(days => ${HISTORY_DAYS + 1}))::date)
          ORDER BY is_open DESC, j.planned_start DESC, j.id DESC LIMIT ${MOST_JOBS}) j
    JOIN LATERAL (SELECT oxygen_kg, fuel_kg FROM estimates e WHERE e.job_id = j.id ORDER BY e.kept_at, e.id LIMIT 1) f ON true
    JOIN LATERAL (
      SELECT e.cut_list_id, e.fuel, e.oxygen_kg, e.oxygen_u_kg, e.fuel_kg, e.fuel_u_kg, e.cut_ids, e.cut_counts, e.cut_oxygen_kg,
             (e.inputs #>> '{crewFactor,mean}')::float8 AS crew_factor
      FROM estimates e WHERE e.job_id = j.id ORDER BY e.kept_at DESC, e.id DESC LIMIT 1) l ON true
    LEFT JOIN LATERAL (
      SELECT sum(kg * greatest(0, coalesce(u.count - u.done_count, 0)) / nullif(x.was, 0)) / nullif(sum(kg), 0) AS left
      FROM (SELECT c.id AS cut_id, (l.cut_counts ->> (c.place - 1)::int)::float8 AS was,
                   (l.cut_oxygen_kg ->> (c.place - 1)::int)::float8 AS kg
            FROM jsonb_array_elements_text(l.cut_ids) WITH ORDINALITY AS c(id, place) WHERE j.is_open) x
      LEFT JOIN cuts u ON u.id::text = x.cut_id AND u.cut_list_id = l.cut_list_id) by_cut ON j.is_open
    LEFT JOIN LATERAL (
      SELECT 1 - sum(least(u.done_count, u.count))::float8 / nullif(sum(u.count), 0) AS left
      FROM cuts u WHERE u.cut_list_id = l.cut_list_id AND j.is_open) by_piece ON j.is_open`
}

type SmallRows = Readonly<{
  emptied: EmptiedRow[]
  arrivals: ArrivalRow[]
  /** Since when each site is there, in days of its own calendar. */
  sites: { id: string; days: number }[]
  /** As lib/data/learned-demand and lib/data/crew-factors read them; null: nothing learned yet. */
  demand: unknown
  crews: unknown
}>

/**
 * In one statement, since each is small: cylinders taken off an outfit per site, gas and day of the site's own
 * calendar; what is ordered and has not come, what is overdue hoped for today; how old each site is; and what was
 * last learned of demand and crews.
 */
async function readSmall(siteIds: readonly string[]): Promise<SmallRows> {
  const [row] = await db.$queryRaw<SmallRows[]>`
    WITH s AS (
      SELECT id, (kerf_now() AT TIME ZONE zone)::date AS today, (created_at AT TIME ZONE zone)::date AS since
      FROM sites WHERE id = ANY(${siteIds}::uuid[])),
    emptied AS (
      SELECT d.site_id, d.gas_id, array_agg(s.today - d.day) AS days_ago, array_agg(d.cylinders) AS cylinders
      FROM s JOIN emptied_days d ON d.site_id = s.id AND d.day >= s.today - ${HISTORY_DAYS}::int AND d.day <= s.today
      GROUP BY d.site_id, d.gas_id),
    arrivals AS (
      SELECT o.site_id, l.size_id, z.gas_id, sum(l.quantity)::int AS quantity,
             greatest(1, (o.due_on - s.today) + 1)::int AS in_days
      FROM s JOIN orders o ON o.site_id = s.id AND o.state = 'confirmed'
      JOIN order_lines l ON l.order_id = o.id JOIN cylinder_sizes z ON z.id = l.size_id
      GROUP BY o.site_id, l.size_id, z.gas_id, in_days)
    SELECT coalesce((SELECT jsonb_agg(emptied) FROM emptied), '[]') AS emptied,
           coalesce((SELECT jsonb_agg(arrivals) FROM arrivals), '[]') AS arrivals,
           coalesce((SELECT jsonb_agg(jsonb_build_object('id', s.id, 'days', greatest(0, s.today - s.since))) FROM s), '[]') AS sites,
           (SELECT learned FROM learned_demand ORDER BY learned_at DESC LIMIT 1) AS demand,
           (SELECT factors FROM crew_factors ORDER BY learned_at DESC LIMIT 1) AS crews`
  return row ?? { emptied: [], arrivals: [], sites: [], demand: null, crews: null }
}

export type ForecastRows = Awaited<ReturnType<typeof readForecastRows>>

/** Everything that the forecasts of these sites rest on, in four queries. */
export async function readForecastRows(siteIds: readonly string[]) {
  const sizes: SizeRow[] = await db.cylinderSize.findMany({
    select: SIZE_COLUMNS,
    orderBy: { id: 'asc' },
  })
  const [stock, planned, small] = await Promise.all([
    readStock(siteIds, sizes),
    readPlanned(siteIds),
    readSmall(siteIds),
  ])
  return { sizes, stock, planned, ...small }
}
