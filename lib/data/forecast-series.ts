import 'server-only'
import type { UseHistory } from '@/lib/calc/past-windows'
import { unplannedCounts } from '@/lib/calc/unplanned-demand'
import { reserveOf, type SizeRow } from './contents'
import { type ForecastRows, HISTORY_DAYS, type PlannedRow } from './forecast-rows'

/** Rows of one site, and the sizes that all share. */
export type SiteRows = Omit<ForecastRows, 'sites' | 'demand' | 'crews'> &
  Readonly<{ daysKnown: number }>

function groupBySite<Row extends { site_id: string }>(rows: readonly Row[]): Map<string, Row[]> {
  const groups = new Map<string, Row[]>()
  for (const row of rows) {
    const group = groups.get(row.site_id)
    if (group) group.push(row)
    else groups.set(row.site_id, [row])
  }
  return groups
}

/** Taken apart once, so that forty sites do not look through each other's rows. */
export function bySite(rows: ForecastRows): (siteId: string) => SiteRows {
  const stock = groupBySite(rows.stock)
  const emptied = groupBySite(rows.emptied)
  const planned = groupBySite(rows.planned)
  const arrivals = groupBySite(rows.arrivals)
  const sites = new Map(rows.sites.map((site) => [site.id, site]))
  return (siteId) => {
    const own = emptied.get(siteId) ?? []
    // A site that was set up late may have records from before.
    const oldest = Math.max(0, ...own.flatMap((row) => row.days_ago))
    const daysKnown = Math.min(HISTORY_DAYS, Math.max(oldest, sites.get(siteId)?.days ?? 0))
    return {
      sizes: rows.sizes,
      stock: stock.get(siteId) ?? [],
      emptied: own,
      planned: planned.get(siteId) ?? [],
      arrivals: arrivals.get(siteId) ?? [],
      daysKnown,
    }
  }
}

/** The size that a gas of a site is counted in: the one it has most of. */
export function mainSize(rows: SiteRows, gasId: string): SizeRow | null {
  const counts = rows.stock.filter((row) => row.gas_id === gasId)
  const most = counts.toSorted((a, b) => b.full + b.part - (a.full + a.part))[0]
  return (
    rows.sizes.find((size) => size.id === most?.size_id) ??
    rows.sizes.find((size) => size.gasId === gasId) ??
    null
  )
}

export const usableKgOf = (size: SizeRow) => size.nominalKg - reserveOf(size).reserveKg

/** What a job takes of a gas, in kg; null when it burns another. */
export function gasOfJob(
  job: PlannedRow,
  gasId: string,
): { kg: number; uKg: number; plannedKg: number } | null {
  if (gasId === 'oxygen')
    return { kg: job.oxygen_kg, uKg: job.oxygen_u_kg, plannedKg: job.planned_oxygen_kg }
  if (job.fuel !== gasId) return null
  return { kg: job.fuel_kg, uKg: job.fuel_u_kg, plannedKg: job.planned_fuel_kg }
}

/** What the estimates put on each of the past days, in cylinders, oldest first. */
function plannedPerDay(jobs: readonly PlannedRow[], gasId: string, usableKg: number): number[] {
  const perDay = new Array<number>(HISTORY_DAYS).fill(0)
  for (const job of jobs) {
    const gas = gasOfJob(job, gasId)
    if (!gas) continue
    const cylindersADay = gas.plannedKg / usableKg / (job.to_days - job.from_days + 1)
    const first = Math.max(0, job.from_days + HISTORY_DAYS)
    const last = Math.min(HISTORY_DAYS - 1, job.to_days + HISTORY_DAYS)
    for (let day = first; day <= last; day += 1) perDay[day] = (perDay[day] ?? 0) + cylindersADay
  }
  return perDay
}

function emptiedPerDay(rows: SiteRows, gasId: string): number[] {
  const perDay = new Array<number>(HISTORY_DAYS).fill(0)
  const emptied = rows.emptied.find((row) => row.gas_id === gasId)
  for (const [index, daysAgo] of emptied?.days_ago.entries() ?? [])
    if (daysAgo > 0) perDay[HISTORY_DAYS - daysAgo] = emptied?.cylinders[index] ?? 0
  return perDay
}

/** What came off empty day by day, what had been planned, and what nobody planned; from the site's first day on. */
export function historyOf(rows: SiteRows, gasId: string, usableKg: number): UseHistory {
  const came = emptiedPerDay(rows, gasId)
  const planned = plannedPerDay(rows.planned, gasId, usableKg)
  const unplanned = unplannedCounts({ emptiedPerDay: came, plannedPerDay: planned })
  const from = HISTORY_DAYS - rows.daysKnown
  return {
    came: came.slice(from),
    planned: planned.slice(from),
    unplanned: unplanned.slice(from),
  }
}

/** Gases that a site has, that its planned work burns, or that it emptied within the history. */
export function gasesOf(rows: SiteRows): string[] {
  const has = rows.stock.map((row) => row.gas_id)
  const open = rows.planned.filter(
    (row) => (row.state === 'planned' || row.state === 'running') && row.left > 0,
  )
  const burns = open.flatMap((row) => ['oxygen', row.fuel])
  const emptied = rows.emptied.map((row) => row.gas_id)
  return [...new Set([...has, ...burns, ...emptied])].sort(
    (a, b) => Number(b === 'oxygen') - Number(a === 'oxygen') || (a < b ? -1 : 1),
  )
}
