import 'server-only'
import {
  coverByDay,
  type DemandToDay,
  demandOfSize,
  sizeShares,
  withMoreWork,
} from '@/lib/calc/supply-plan-outlook'
import type {
  PlanCell,
  PlanFleet,
  PlanProblem,
  PlanRoute,
  PlanSupplier,
} from '@/lib/calc/supply-plan-types'
import type { PlanAsk } from '@/lib/schemas/plan'
import { type Agreement, readAgreements } from '../agreements'
import { forecastSites, type GasForecast, type SizeHere } from '../forecast'
import { agreedOf, dayAfter, readSuppliers, type SupplierChoice } from '../orders-supply'
import { type Commitment, readCommitments, USUAL_GROSS_KG } from './commitments'
import { fleetOf, manifoldsOf, storageOf } from './problem-limits'
import { type PlanRows, type PlanSite, readPlanRows } from './problem-rows'

export const PLAN_DAYS = 14
/** A plan covers the high end of use so many times in a hundred: the chance that past misses are known at. */
const SERVICE = 0.95
/** What fits where no most was agreed on. */
const MOST_ON_A_TRUCK = 60

/*
 * House figures, shown with the plan: common practice, no source. No distance between sites and no cost of a
 * crew that stands still is on record.
 */
export const HOUSE = {
  tripMinor: 6000,
  tripHours: 2,
  runOutMinorPerDay: 40_000,
  grossKg: USUAL_GROSS_KG,
} as const

/** One size of a gas at a site. */
export type PlanGas = Readonly<{
  siteId: string
  gasId: string
  sizeId: string
  sizeName: string
  forecast: GasForecast
  demand: readonly DemandToDay[]
  full: number
  /** Of what is at hand, what is not in full cylinders. */
  openCylinders: number
  /** Ordered and not come, by day. */
  ordered: readonly number[]
  /** The same with confirmed moves: more where they bring, less where they take. */
  fixedIn: readonly number[]
}>
export type PlanFacts = Readonly<{
  now: Date
  sites: readonly PlanSite[]
  gases: readonly PlanGas[]
  suppliers: readonly SupplierChoice[]
  grossKg: ReadonlyMap<string, number>
  problem: PlanProblem
  /** How many own trucks are on record. */
  trucks: number
  commitments: readonly Commitment[]
  jobs: PlanRows['jobs']
}>

const isoWeekday = (day: string) => new Date(`${day}T00:00:00Z`).getUTCDay() || 7

/** Days from today on which a supplier's truck can be at a site. */
function truckDays(today: string, leadDays: number, deliveryDays: readonly number[]): number[] {
  return Array.from({ length: PLAN_DAYS }, (_, day) => day).filter(
    (day) =>
      day >= leadDays &&
      (deliveryDays.length === 0 || deliveryDays.includes(isoWeekday(dayAfter(today, day)))),
  )
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

/** What is overdue is hoped for today, and later by as many days as suppliers are asked to be late. */
function orderedIn(size: SizeHere, late: number): number[] {
  return Array.from({ length: PLAN_DAYS }, (_, day) =>
    size.ordered
      .filter((one) => one.day + late === day)
      .reduce((all, one) => all + one.quantity, 0),
  )
}

/** Of one size on one day, what confirmed moves bring to a site less what they take from it. */
function movedIn(
  commitments: readonly Commitment[],
  { siteId, sizeId, day }: { siteId: string; sizeId: string; day: number },
): number {
  return commitments
    .filter((one) => one.kind === 'move' && one.inDays === day)
    .reduce((all, one) => {
      const sign = Number(one.toSiteId === siteId) - Number(one.siteId === siteId)
      return all + sign * countIn(one, sizeId)
    }, 0)
}

const countIn = ({ lines }: Commitment, sizeId: string) =>
  lines.reduce((all, line) => (line.sizeId === sizeId ? all + line.quantity : all), 0)

type PlanKnown = PlanRows & Readonly<{ commitments: readonly Commitment[] }>

/** Each size of a gas that a site has, with its share of what is used. */
function sizesOf(
  forecast: GasForecast,
  ask: PlanAsk,
  { sizes, emptied, commitments }: PlanKnown,
): PlanGas[] {
  const demand = demandOf(forecast, ask)
  const shares = sizeShares(
    forecast.sizes.map(({ sizeId, usableKg }) => ({
      usableKg,
      emptied:
        emptied.find((row) => row.site_id === forecast.siteId && row.size_id === sizeId)?.emptied ??
        0,
    })),
  )
  return forecast.sizes.map((size, at) => ({
    siteId: forecast.siteId,
    gasId: forecast.gasId,
    sizeId: size.sizeId,
    sizeName: sizes.find((one) => one.id === size.sizeId)?.name ?? size.sizeId,
    forecast,
    demand: demandOfSize(demand, shares[at] ?? 0),
    full: size.full,
    openCylinders: size.openCylinders,
    ordered: orderedIn(size, ask.late),
    fixedIn: orderedIn(size, ask.late).map(
      (quantity, day) =>
        quantity + movedIn(commitments, { siteId: forecast.siteId, sizeId: size.sizeId, day }),
    ),
  }))
}

function cellOf(gas: PlanGas, rows: PlanKnown, grossKg: number): PlanCell {
  const countOf = (status: string) =>
    rows.counts.find(
      (row) => row.site_id === gas.siteId && row.size_id === gas.sizeId && row.status === status,
    )?.cylinders ?? 0
  const agreed = rows.rent.find((row) => row.site_id === gas.siteId && row.size_id === gas.sizeId)
  const listed = rows.sizes.find((size) => size.id === gas.sizeId)?.rent_minor ?? 0
  // Empties whose return is confirmed are spoken for: no other truck is sent for them.
  const returns = rows.commitments.filter(
    (one) => one.kind === 'return' && one.siteId === gas.siteId,
  )
  const spokenFor = (after: number) =>
    Math.min(
      countOf('empty'),
      returns
        .filter((one) => one.inDays > after)
        .reduce((all, one) => all + countIn(one, gas.sizeId), 0),
    )
  return {
    siteId: gas.siteId,
    gasId: gas.gasId,
    sizeId: gas.sizeId,
    full: gas.full,
    inUse: countOf('in_use'),
    empty: countOf('empty') - spokenFor(-1),
    // Their room is free on the day on which they are fetched, not before.
    leaving: Array.from({ length: PLAN_DAYS }, (_, day) => spokenFor(day)),
    ...coverByDay(gas.demand, {
      service: SERVICE,
      openCylinders: gas.openCylinders,
      score: gas.forecast.learned.score,
    }),
    fixedIn: gas.fixedIn,
    rentPerDay: agreed?.rent_minor ?? listed,
    demurragePerDay: agreed?.demurrage_minor ?? 0,
    demurrageFromDay: Math.min(PLAN_DAYS, agreed?.demurrage_in_days ?? PLAN_DAYS),
    runOutPerDay: HOUSE.runOutMinorPerDay,
    grossKg,
  }
}

function supplierOf(
  supplier: SupplierChoice,
  site: PlanSite,
  { agreement, late }: { agreement: Agreement | undefined; late: number },
): PlanSupplier {
  const agreed = agreedOf(supplier, agreement)
  const days = agreement?.deliveryDays.length ? agreement.deliveryDays : site.deliveryDays
  return {
    supplierId: supplier.id,
    siteId: site.id,
    days: truckDays(site.today, agreed.leadDays + late, days),
    fee: agreed.deliveryFeeMinor,
    least: agreement?.least ?? 1,
    most: agreement?.most ?? MOST_ON_A_TRUCK,
    prices: Object.fromEntries(supplier.prices.map((one) => [one.sizeId, one.fillMinor])),
    breaks: agreement?.breaks ?? [],
  }
}

/** Drivers are not out twice: hours that confirmed trips take are gone. */
function withoutTrips(fleet: PlanFleet, commitments: readonly Commitment[]): PlanFleet {
  const left = (hours: readonly number[], isPapers: boolean) =>
    hours.map((one, day) => {
      const trips = commitments.filter(
        ({ kind, inDays, withPapers }) =>
          kind === 'move' && inDays === day && (withPapers || !isPapers),
      )
      return Math.max(0, one - HOUSE.tripHours * trips.length)
    })
  return {
    ...fleet,
    driverHours: left(fleet.driverHours, false),
    trainedHours: left(fleet.trainedHours, true),
  }
}

/** Everything a supply plan of these sites rests on; the caller has settled that the viewer may see them. */
export async function readPlanFacts(siteIds: readonly string[], ask: PlanAsk): Promise<PlanFacts> {
  const [read, suppliers, forecasts, agreements, commitments] = await Promise.all([
    readPlanRows(siteIds, PLAN_DAYS),
    readSuppliers(),
    forecastSites(siteIds),
    readAgreements(siteIds),
    readCommitments(siteIds),
  ])
  const rows: PlanKnown = { ...read, commitments }
  const grossKg = new Map(
    rows.sizes.map((size) => [
      size.id,
      size.gross_kg ?? (size.tare_kg === null ? HOUSE.grossKg : size.tare_kg + size.nominal_kg),
    ]),
  )
  const gases = forecasts.flatMap((forecast) => sizesOf(forecast, ask, rows))
  const cells = gases.map((gas) => cellOf(gas, rows, grossKg.get(gas.sizeId) ?? HOUSE.grossKg))
  const sites = rows.sites.map(({ now, ...site }) => site)
  const hasTruck = ask.hasTruck && rows.vehicles.length > 0
  const problem: PlanProblem = {
    days: PLAN_DAYS,
    cells,
    suppliers: suppliers.flatMap((supplier) =>
      sites.map((site) =>
        supplierOf(supplier, site, {
          late: ask.late,
          agreement: agreements.find(
            (one) => one.siteId === site.id && one.supplierId === supplier.id,
          ),
        }),
      ),
    ),
    routes: hasTruck ? routesOf(sites) : [],
    fleet: withoutTrips(
      fleetOf(hasTruck ? rows : { ...rows, vehicles: [] }, PLAN_DAYS),
      commitments,
    ),
    storage: storageOf(rows, cells),
    manifolds: manifoldsOf(rows, { days: PLAN_DAYS, shortPerDay: HOUSE.runOutMinorPerDay }),
    coverIs: 'priced',
  }
  return {
    now: rows.sites[0]?.now ?? new Date(0),
    sites,
    gases,
    suppliers,
    grossKg,
    problem,
    trucks: rows.vehicles.length,
    commitments,
    jobs: rows.jobs,
  }
}
