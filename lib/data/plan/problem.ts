import 'server-only'
import { coverByDay, type DemandToDay, withMoreWork } from '@/lib/calc/supply-plan-outlook'
import type { PlanCell, PlanFleet, PlanProblem, PlanRoute } from '@/lib/calc/supply-plan-types'
import { STORE_RULES } from '@/lib/rules/store-catalogue'
import type { PlanAsk } from '@/lib/schemas/plan'
import { db } from '../client'
import { forecastSites, type GasForecast } from '../forecast'
import { dayAfter, readSuppliers, type SupplierChoice } from '../orders-supply'

export const PLAN_DAYS = 14
/** A plan covers the high end of use so many times in a hundred. */
const SERVICE = 0.95
const POUND_KG = 0.453_592_37
const MOST_ON_A_TRUCK = 60
/** Own trucks go out in the first days; by then a supplier can come. */
const TRUCK_DAYS = 4
const TRUCK_HOURS_A_DAY = 8

/*
 * House figures, shown with the plan: common practice, no source. No distance between sites and no cost of a
 * crew that stands still is on record.
 */
export const HOUSE = {
  tripMinor: 6000,
  tripHours: 2,
  runOutMinorPerDay: 40_000,
  grossKg: 85,
} as const

export type PlanSite = Readonly<{
  id: string
  name: string
  shortName: string
  zone: string
  today: string
  deliveryDays: readonly number[]
}>
export type PlanGas = Readonly<{
  siteId: string
  gasId: string
  sizeId: string
  sizeName: string
  forecast: GasForecast
  demand: readonly DemandToDay[]
  /** Of what is at hand, what is not in full cylinders. */
  openCylinders: number
}>
export type PlanFacts = Readonly<{
  now: Date
  sites: readonly PlanSite[]
  gases: readonly PlanGas[]
  suppliers: readonly SupplierChoice[]
  grossKg: ReadonlyMap<string, number>
  problem: PlanProblem
}>

interface SizeFacts {
  id: string
  name: string
  gross_kg: number | null
  tare_kg: number | null
  nominal_kg: number
  rent_minor: number | null
}

const readSites = (siteIds: readonly string[]) =>
  db.$queryRaw<(PlanSite & { now: Date })[]>`
    SELECT id, name, short_name AS "shortName", zone, delivery_days AS "deliveryDays", kerf_now() AS now,
           to_char(kerf_now() AT TIME ZONE zone, 'YYYY-MM-DD') AS today
    FROM sites WHERE id = ANY(${siteIds}::uuid[]) ORDER BY name`

const readSizes = () =>
  db.$queryRaw<SizeFacts[]>`
    SELECT z.id, z.name, z.gross_kg, z.tare_kg, z.nominal_kg,
           (SELECT min(p.rent_minor_per_day) FROM prices p
            WHERE p.size_id = z.id AND p.valid_from <= kerf_now()::date AND (p.valid_until IS NULL OR p.valid_until >= kerf_now()::date)) AS rent_minor
    FROM cylinder_sizes z`

const readCounts = (siteIds: readonly string[]) =>
  db.$queryRaw<{ site_id: string; size_id: string; status: string; cylinders: number }[]>`
    SELECT site_id, size_id, status, cylinders FROM site_stock
    WHERE site_id = ANY(${siteIds}::uuid[]) AND status IN ('empty', 'in_use') AND cylinders > 0`

const isoWeekday = (day: string) => new Date(`${day}T00:00:00Z`).getUTCDay() || 7

/** Days from today on which a supplier's truck can be at a site. */
function truckDays(site: PlanSite, leadDays: number): number[] {
  return Array.from({ length: PLAN_DAYS }, (_, day) => day).filter(
    (day) =>
      day >= leadDays &&
      (site.deliveryDays.length === 0 ||
        site.deliveryDays.includes(isoWeekday(dayAfter(site.today, day)))),
  )
}

function fleetOf(hasTruck: boolean): PlanFleet {
  const { aggregateMaxLb } = STORE_RULES['dot-mot-aggregate-440'].limits
  const { grossWeightMaxLb } = STORE_RULES['dot-mot-cylinder-220'].limits
  const hours = (day: number) => (hasTruck && day < TRUCK_DAYS ? TRUCK_HOURS_A_DAY : 0)
  return {
    driverHours: Array.from({ length: PLAN_DAYS }, (_, day) => hours(day)),
    // Nobody's training for papers is on record, so every trip stays within materials of trade.
    trainedHours: new Array<number>(PLAN_DAYS).fill(0),
    tradeKg: aggregateMaxLb * POUND_KG,
    tradeEachKg: grossWeightMaxLb * POUND_KG,
    papersKg: 0,
  }
}

const routesOf = (sites: readonly PlanSite[]): PlanRoute[] =>
  sites.flatMap((from) =>
    sites
      .filter((to) => to.id !== from.id)
      .map((to) => ({
        routeId: `${from.id}>${to.id}`,
        fromSiteId: from.id,
        toSiteId: to.id,
        tripCost: HOUSE.tripMinor,
        hours: HOUSE.tripHours,
      })),
  )

function demandOf(gas: GasForecast, ask: PlanAsk): DemandToDay[] {
  const days = gas.forecast.days.slice(0, PLAN_DAYS).map((day) => ({
    mean: day.demandMean,
    variance: day.demandVariance,
  }))
  if (ask.addCylinders === 0 || ask.addSite !== gas.siteId || ask.addGas !== gas.gasId) return days
  const work = { cylinders: ask.addCylinders, fromDay: 1, toDay: 5, relativeSpread: 0.2 }
  return withMoreWork(days, work)
}

const arrivedOn = (gas: GasForecast) =>
  Array.from({ length: PLAN_DAYS }, (_, day) =>
    Math.floor(
      gas.arrivals
        .filter((one) => one.day === day + 1)
        .reduce((sum, one) => sum + one.cylinders, 0) + 1e-9,
    ),
  )

/**
 * Everything a supply plan of these sites rests on; the caller has settled that the viewer may see them.
 *
 * Each gas of a site counts in the size that the site has most of, as its forecast does.
 */
export async function readPlanFacts(siteIds: readonly string[], ask: PlanAsk): Promise<PlanFacts> {
  const [siteRows, sizes, counts, suppliers, forecasts] = await Promise.all([
    readSites(siteIds),
    readSizes(),
    readCounts(siteIds),
    readSuppliers(),
    forecastSites(siteIds),
  ])
  const sizeOf = new Map(sizes.map((size) => [size.id, size]))
  const grossKg = new Map(
    sizes.map((size) => [
      size.id,
      size.gross_kg ?? (size.tare_kg === null ? HOUSE.grossKg : size.tare_kg + size.nominal_kg),
    ]),
  )
  const gases = forecasts.map((forecast): PlanGas => {
    const { siteId, gasId, sizeId, stockCylinders, full } = forecast
    const openCylinders = Math.max(0, stockCylinders - full)
    const sizeName = sizeOf.get(sizeId)?.name ?? sizeId
    return {
      siteId,
      gasId,
      sizeId,
      sizeName,
      forecast,
      demand: demandOf(forecast, ask),
      openCylinders,
    }
  })
  const countOf = (gas: PlanGas, status: string) =>
    counts.find(
      (row) => row.site_id === gas.siteId && row.size_id === gas.sizeId && row.status === status,
    )?.cylinders ?? 0
  const cells = gases.map(
    (gas): PlanCell => ({
      siteId: gas.siteId,
      gasId: gas.gasId,
      sizeId: gas.sizeId,
      full: gas.forecast.full,
      inUse: countOf(gas, 'in_use'),
      empty: countOf(gas, 'empty'),
      ...coverByDay(gas.demand, {
        service: SERVICE,
        openCylinders: gas.openCylinders,
        score: gas.forecast.learned.score,
      }),
      fixedIn: arrivedOn(gas.forecast),
      rentPerDay: sizeOf.get(gas.sizeId)?.rent_minor ?? 0,
      demurragePerDay: 0,
      demurrageFromDay: PLAN_DAYS,
      runOutPerDay: HOUSE.runOutMinorPerDay,
      grossKg: grossKg.get(gas.sizeId) ?? HOUSE.grossKg,
    }),
  )
  const sites = siteRows.map(({ now, ...site }) => site)
  const problem: PlanProblem = {
    days: PLAN_DAYS,
    cells,
    suppliers: suppliers.flatMap((supplier) =>
      sites.map((site) => ({
        supplierId: supplier.id,
        siteId: site.id,
        days: truckDays(site, supplier.leadDays + ask.late),
        fee: supplier.deliveryFeeMinor,
        least: 1,
        most: MOST_ON_A_TRUCK,
        prices: Object.fromEntries(supplier.prices.map((one) => [one.sizeId, one.fillMinor])),
        breaks: [],
      })),
    ),
    routes: ask.hasTruck ? routesOf(sites) : [],
    fleet: fleetOf(ask.hasTruck),
    storage: [],
    manifolds: [],
    coverIs: 'priced',
  }
  return { now: siteRows[0]?.now ?? new Date(0), sites, gases, suppliers, grossKg, problem }
}
