import 'server-only'
import { forecastSite, outlookOfSite } from '@/lib/calc/forecast'
import type {
  ForecastInput,
  PlannedTask,
  SiteForecast,
  SiteOutlook,
} from '@/lib/calc/forecast-types'
import type { Refused } from '@/lib/calc/refusal'
import { unplannedCounts } from '@/lib/calc/unplanned-demand'
import { reserveOf, type SizeRow } from './contents'
import { HORIZON_DAYS } from './forecast-horizon'
import { type ForecastRows, HISTORY_DAYS, type PlannedRow, readForecastRows } from './forecast-rows'

/** The chance at which a site counts as short. */
export const SHORT_CHANCE = 0.1
/** Spread of a crew around the tables before its own factor is learned: judgement, no source. */
const CREW_VARIANCE = 0.15 ** 2

/** What an order must cover: the days until it comes, and from then until the next could come. */
export type OrderCover = Readonly<{ leadDays: number; reviewDays: number }>
const USUAL_COVER: OrderCover = { leadDays: 2, reviewDays: 7 }

/** What a site has of a gas, what comes, and what is planned. */
export type SiteGas = Readonly<{
  siteId: string
  gasId: string
  /** The size that is counted in: the one the site has most of. */
  sizeId: string
  full: number
  part: number
  /** In cylinders of that size, above what is left in at change. */
  stockCylinders: number
  arrivals: readonly Readonly<{ day: number; cylinders: number }>[]
  /** Day on which the last of the planned work ends; null where nothing is planned. */
  lastPlannedDay: number | null
  plannedCylinders: number
}>
export type GasForecast = SiteGas & Readonly<{ forecast: SiteForecast }>
export type GasOutlook = SiteGas & Readonly<{ forecast: SiteOutlook }>

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0)

/** Rows of one site, and the sizes that all share. */
type SiteRows = ForecastRows

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
function bySite(rows: ForecastRows): (siteId: string) => SiteRows {
  const stock = groupBySite(rows.stock)
  const emptied = groupBySite(rows.emptied)
  const planned = groupBySite(rows.planned)
  const arrivals = groupBySite(rows.arrivals)
  return (siteId) => ({
    sizes: rows.sizes,
    stock: stock.get(siteId) ?? [],
    emptied: emptied.get(siteId) ?? [],
    planned: planned.get(siteId) ?? [],
    arrivals: arrivals.get(siteId) ?? [],
  })
}

function mainSize(rows: SiteRows, gasId: string): SizeRow | null {
  const counts = rows.stock.filter((row) => row.gas_id === gasId)
  const most = counts.toSorted((a, b) => b.full + b.part - (a.full + a.part))[0]
  return (
    rows.sizes.find((size) => size.id === most?.size_id) ??
    rows.sizes.find((size) => size.gasId === gasId) ??
    null
  )
}

/** What a job takes of a gas, in kg; null when it burns another. */
function gasOf(
  job: PlannedRow,
  gasId: string,
): { kg: number; uKg: number; plannedKg: number } | null {
  if (gasId === 'oxygen')
    return { kg: job.oxygen_kg, uKg: job.oxygen_u_kg, plannedKg: job.planned_oxygen_kg }
  if (job.fuel !== gasId) return null
  return { kg: job.fuel_kg, uKg: job.fuel_u_kg, plannedKg: job.planned_fuel_kg }
}

function tasksOf(jobs: readonly PlannedRow[], gasId: string, usableKg: number): PlannedTask[] {
  return jobs
    .filter((job) => job.state === 'planned' || job.state === 'running')
    .flatMap((job) => {
      const gas = gasOf(job, gasId)
      if (!gas || gas.kg <= 0 || job.left <= 0) return []
      const fromDay = Math.max(1, job.from_days + 1)
      return [
        {
          taskId: job.job_id,
          cylinders: (gas.kg * job.left) / usableKg,
          chance: job.chance,
          groupId: job.crew_id ?? job.job_id,
          factorMean: 1,
          factorVariance: CREW_VARIANCE,
          taskCv2: (gas.uKg / gas.kg) ** 2,
          fromDay,
          toDay: Math.max(fromDay, job.to_days + 1),
        },
      ]
    })
}

/** What the estimates put on each of the past days, in cylinders, oldest first. */
function plannedPerDay(jobs: readonly PlannedRow[], gasId: string, usableKg: number): number[] {
  const perDay = new Array<number>(HISTORY_DAYS).fill(0)
  for (const job of jobs) {
    const gas = gasOf(job, gasId)
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

const usableKgOf = (size: SizeRow) => size.nominalKg - reserveOf(size).reserveKg

/** What is on its way, of whatever size, in cylinders of the size that is counted in. */
function arrivalsOf(rows: SiteRows, gasId: string, usableKg: number) {
  return rows.arrivals
    .filter((row) => row.gas_id === gasId && row.in_days <= HORIZON_DAYS)
    .map((row) => {
      const size = rows.sizes.find((one) => one.id === row.size_id)
      const each = size ? usableKgOf(size) / usableKg : 0
      return { day: row.in_days, cylinders: row.quantity * each }
    })
}

/** A gas at a site, and what its forecast rests on; null where it has no size to be counted in. */
function gasAtSite(rows: SiteRows, siteId: string, gasId: string) {
  const size = mainSize(rows, gasId)
  if (!size) return null
  const usableKg = usableKgOf(size)
  if (usableKg <= 0) return null
  const here = rows.stock.filter((row) => row.gas_id === gasId)
  const planned = tasksOf(rows.planned, gasId, usableKg)
  const arrivals = arrivalsOf(rows, gasId, usableKg)
  const stockCylinders = sum(here.map((row) => row.usable_kg)) / usableKg
  const lastDay = Math.max(0, ...planned.map((task) => task.toDay))
  const gas: SiteGas = {
    siteId,
    gasId,
    sizeId: size.id,
    full: sum(here.map((row) => row.full)),
    part: sum(here.map((row) => row.part)),
    stockCylinders,
    arrivals,
    lastPlannedDay: lastDay > 0 ? lastDay : null,
    plannedCylinders: sum(planned.map((task) => task.cylinders * task.chance)),
  }
  const input: ForecastInput = {
    planned,
    baselineDailyCounts: unplannedCounts({
      emptiedPerDay: emptiedPerDay(rows, gasId),
      plannedPerDay: plannedPerDay(rows.planned, gasId, usableKg),
    }),
    stockCylinders,
    arrivals,
    horizonDays: HORIZON_DAYS,
    chance: SHORT_CHANCE,
  }
  return { gas, input }
}

/** The rows are ours and were checked when they were written: a refusal here is a fault. */
function given<Outcome extends { ok: true }>(outcome: Outcome | Refused): Outcome {
  if (!outcome.ok)
    throw new Error(`forecast refused: ${outcome.refusals.map((one) => one.field).join()}`)
  return outcome
}

/** Gases that a site has, or that its planned work burns. */
function gasesOf(rows: SiteRows): string[] {
  const has = rows.stock.map((row) => row.gas_id)
  const open = rows.planned.filter(
    (row) => (row.state === 'planned' || row.state === 'running') && row.left > 0,
  )
  const burns = open.flatMap((row) => ['oxygen', row.fuel])
  return [...new Set([...has, ...burns])].sort(
    (a, b) => Number(b === 'oxygen') - Number(a === 'oxygen') || (a < b ? -1 : 1),
  )
}

async function gasesAtSites(siteIds: readonly string[]) {
  const rowsOf = bySite(await readForecastRows(siteIds))
  return siteIds.flatMap((siteId) => {
    const rows = rowsOf(siteId)
    return gasesOf(rows)
      .map((gasId) => gasAtSite(rows, siteId, gasId))
      .filter((one) => one !== null)
  })
}

/** The forecast of each gas at each site; the caller has settled that the viewer may see these sites. */
export async function forecastSites(
  siteIds: readonly string[],
  cover = USUAL_COVER,
): Promise<GasForecast[]> {
  const found = await gasesAtSites(siteIds)
  return found.map(({ gas, input }) => ({
    ...gas,
    forecast: given(
      forecastSite({ ...input, leadTimeDays: cover.leadDays, reviewDays: cover.reviewDays }),
    ),
  }))
}

/** Only when each gas runs short, for a sheet of many sites; asked as `forecastSites` is. */
export async function outlookOfSites(siteIds: readonly string[]): Promise<GasOutlook[]> {
  const found = await gasesAtSites(siteIds)
  return found.map(({ gas, input }) => {
    const { daysUntilShort, shortDayQuantiles } = given(outlookOfSite(input))
    return { ...gas, forecast: { daysUntilShort, shortDayQuantiles } }
  })
}
