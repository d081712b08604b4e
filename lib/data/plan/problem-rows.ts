import 'server-only'
import { db } from '../client'

export type PlanSite = Readonly<{
  id: string
  name: string
  shortName: string
  zone: string
  today: string
  /** How much of today is past there, 0 to 1. */
  dayGone: number
  deliveryDays: readonly number[]
}>

const readSites = (siteIds: readonly string[]) =>
  db.$queryRaw<(PlanSite & { now: Date })[]>`
    SELECT id, name, short_name AS "shortName", zone, delivery_days AS "deliveryDays", kerf_now() AS now,
           to_char(kerf_now() AT TIME ZONE zone, 'YYYY-MM-DD') AS today,
           (extract(epoch FROM (kerf_now() AT TIME ZONE zone)::time) / 86400)::float8 AS "dayGone"
    FROM sites WHERE id = ANY(${siteIds}::uuid[]) ORDER BY name`

export interface SizeFacts {
  id: string
  gas_id: string
  name: string
  gross_kg: number | null
  tare_kg: number | null
  nominal_kg: number
  rent_minor: number | null
}

const readSizes = () =>
  db.$queryRaw<SizeFacts[]>`
    SELECT z.id, z.gas_id, z.name, z.gross_kg, z.tare_kg, z.nominal_kg,
           (SELECT min(p.rent_minor_per_day) FROM prices p
            WHERE p.size_id = z.id AND p.valid_from <= kerf_now()::date AND (p.valid_until IS NULL OR p.valid_until >= kerf_now()::date)) AS rent_minor
    FROM cylinder_sizes z`

const readCounts = (siteIds: readonly string[]) =>
  db.$queryRaw<{ site_id: string; size_id: string; status: string; cylinders: number }[]>`
    SELECT site_id, size_id, status, cylinders FROM site_stock
    WHERE site_id = ANY(${siteIds}::uuid[]) AND status IN ('empty', 'in_use') AND cylinders > 0`

/** How many of each size came off empty in the last quarter: what a gas's sizes are shared out by. */
const readEmptiedSizes = (siteIds: readonly string[]) =>
  db.$queryRaw<{ site_id: string; size_id: string; emptied: number }[]>`
    SELECT e.site_id, c.size_id, count(*)::int AS emptied
    FROM cylinder_events e JOIN cylinders c ON c.id = e.cylinder_id
    WHERE e.site_id = ANY(${siteIds}::uuid[]) AND e.kind = 'taken_off' AND e.at > kerf_now() - interval '90 days'
    GROUP BY 1, 2`

export type RentRow = Readonly<{
  site_id: string
  size_id: string
  rent_minor: number
  demurrage_minor: number
  /** Days from today on which an empty of usual age begins to cost more; null: never agreed. */
  demurrage_in_days: number | null
}>

/** What was last agreed on rent, and when the middle one of the empties begins to cost demurrage. */
const readRent = (siteIds: readonly string[]) =>
  db.$queryRaw<RentRow[]>`
    SELECT t.site_id, t.size_id, t.rent_minor_per_day AS rent_minor, t.demurrage_minor_per_day AS demurrage_minor,
           greatest(0, t.demurrage_from_day - coalesce(a.days, 0))::int AS demurrage_in_days
    FROM (SELECT DISTINCT ON (site_id, size_id) * FROM rent_terms
          WHERE site_id = ANY(${siteIds}::uuid[]) AND valid_from <= kerf_now()::date
          ORDER BY site_id, size_id, valid_from DESC, at DESC) t
    LEFT JOIN LATERAL (
      SELECT percentile_disc(0.5) WITHIN GROUP (ORDER BY extract(day FROM kerf_now() - c.arrived_at)::int) AS days
      FROM cylinders c WHERE c.site_id = t.site_id AND c.size_id = t.size_id AND c.status = 'empty') a ON true`

export type VehicleRow = Readonly<{ payload_kg: number | null; trailer_kg: number }>

const readVehicles = (siteIds: readonly string[]) =>
  db.$queryRaw<VehicleRow[]>`
    SELECT payload_kg, (CASE WHEN has_trailer THEN coalesce(trailer_payload_kg, 0) ELSE 0 END)::float8 AS trailer_kg
    FROM vehicles WHERE site_id = ANY(${siteIds}::uuid[]) AND removed_at IS NULL`

/** Who may drive with papers, by days from today until which. */
const readTrained = (siteIds: readonly string[]) =>
  db.$queryRaw<{ until_days: number }[]>`
    SELECT max(q.valid_until - kerf_now()::date)::int AS until_days
    FROM qualifications q JOIN people p ON p.id = q.person_id AND p.disabled_at IS NULL
    WHERE q.kind = 'hazmat_driver' AND q.valid_from <= kerf_now()::date AND q.valid_until >= kerf_now()::date
      AND EXISTS (SELECT 1 FROM grants g WHERE g.person_id = p.id AND g.revoked_at IS NULL AND g.site_id = ANY(${siteIds}::uuid[]))
    GROUP BY q.person_id`

/** Cylinders that planned work needs side by side so that none is drawn too hard. */
const readManifolds = (siteIds: readonly string[], days: number) =>
  db.$queryRaw<
    { site_id: string; gas_id: string; least: number; from_days: number; to_days: number }[]
  >`
    SELECT j.site_id, e.fuel AS gas_id, e.least, (j.planned_start - j.today)::int AS from_days, (j.planned_end - j.today)::int AS to_days
    FROM (SELECT j.*, (kerf_now() AT TIME ZONE s.zone)::date AS today FROM jobs j JOIN sites s ON s.id = j.site_id
          WHERE j.site_id = ANY(${siteIds}::uuid[]) AND j.state IN ('planned', 'running') AND j.chance_to_run >= 0.5) j
    JOIN LATERAL (
      SELECT e.fuel, (e.result #>> '{withdrawal,cylindersOnManifold}')::int AS least FROM estimates e
      WHERE e.job_id = j.id ORDER BY e.kept_at DESC, e.id DESC LIMIT 1) e ON e.least > 1
    WHERE j.planned_end >= j.today AND j.planned_start <= j.today + ${days}::int LIMIT 200`

export type JobRow = Readonly<{
  id: string
  siteId: string
  number: string
  fuel: string
  fromDay: number
  toDay: number
}>

/** Planned and running work of these days, by days from today. */
const readJobs = (siteIds: readonly string[], days: number) =>
  db.$queryRaw<JobRow[]>`
    SELECT j.id, j.site_id AS "siteId", j.number, l.fuel, greatest(0, j.planned_start - j.today)::int AS "fromDay",
           least(${days}::int - 1, j.planned_end - j.today)::int AS "toDay"
    FROM (SELECT j.*, (kerf_now() AT TIME ZONE s.zone)::date AS today FROM jobs j JOIN sites s ON s.id = j.site_id
          WHERE j.site_id = ANY(${siteIds}::uuid[]) AND j.state IN ('planned', 'running')) j
    JOIN LATERAL (SELECT fuel FROM cut_lists l WHERE l.job_id = j.id ORDER BY l.id LIMIT 1) l ON true
    WHERE j.planned_end >= j.today AND j.planned_start < j.today + ${days}::int
    ORDER BY j.planned_start, j.number LIMIT 200`

export type StoreRow = Readonly<{
  site_id: string
  gas_id: string
  indoors: boolean
  sprinklers: boolean
}>

/** The areas in which cylinders of each gas stand now; where no area is said it counts as outdoors. */
const readStores = (siteIds: readonly string[]) =>
  db.$queryRaw<StoreRow[]>`
    SELECT c.site_id, c.gas_id, coalesce((a.facts ->> 'indoors')::boolean, false) AS indoors,
           coalesce((a.facts ->> 'sprinklers')::boolean, false) AS sprinklers
    FROM cylinders c LEFT JOIN areas a ON a.id = c.area_id
    WHERE c.site_id = ANY(${siteIds}::uuid[]) AND c.status IN ('full', 'partial', 'empty')
    GROUP BY c.site_id, c.gas_id, c.area_id, 3, 4`

const readLayers = (siteIds: readonly string[]) =>
  db.siteRuleset.findMany({
    where: { siteId: { in: [...siteIds] }, toAt: null },
    select: { siteId: true, rulesetId: true },
  })

/** Everything that a plan of these sites reads beside forecasts and suppliers. */
export async function readPlanRows(siteIds: readonly string[], days: number) {
  const [sites, sizes, counts, emptied, rent, vehicles, trained, manifolds, stores, layers, jobs] =
    await Promise.all([
      readSites(siteIds),
      readSizes(),
      readCounts(siteIds),
      readEmptiedSizes(siteIds),
      readRent(siteIds),
      readVehicles(siteIds),
      readTrained(siteIds),
      readManifolds(siteIds, days),
      readStores(siteIds),
      readLayers(siteIds),
      readJobs(siteIds, days),
    ])
  return { sites, sizes, counts, emptied, rent, vehicles, trained, manifolds, stores, layers, jobs }
}
export type PlanRows = Awaited<ReturnType<typeof readPlanRows>>
