import { forecastSite } from '@/lib/calc/forecast'
import type { PlannedTask } from '@/lib/calc/forecast-types'
import { greedyPlan } from '@/lib/calc/supply-plan-greedy'
import { coverByDay } from '@/lib/calc/supply-plan-outlook'
import type { PlanCell, PlanProblem } from '@/lib/calc/supply-plan-types'
import type { SimulatedSite, SupplyRule } from '@/lib/calc/supply-simulation'
import { SITES } from '@/seed/demo/places'
import { leadDaysOf, PRICES, SUPPLIERS } from '@/seed/demo/suppliers'
import { type Chance, openChance } from '@/seed/random'

/** Prices, rent, fee, lead and truck days of the demo company's sites, as they stand in its record. */
const SUPPLIER = 'marrowby'
const LEAD_DAYS = leadDaysOf(SUPPLIER)
const VISIT_MINOR = Number(
  SUPPLIERS.find(({ key }) => key === SUPPLIER)?.row.delivery_fee_minor ?? Number.NaN,
)
const priced = (sizeId: 'oxygen-244' | 'acetylene-225') => {
  const price = PRICES.find(({ size }) => size === sizeId)
  if (!price) throw new Error(`the demo company buys no ${sizeId}`)
  return { sizeId, fillCost: price.fillMinor, rentPerDay: price.rentMinorPerDay }
}

export const YEAR_DAYS = 365
const PLAN_DAYS = 14
const RUN_OUT_MINOR = 40_000
const KNOWN_DAYS = 12
const CELLS = [
  { gasId: 'oxygen', full: 6, share: 1, ...priced('oxygen-244') },
  { gasId: 'acetylene', full: 3, share: 0.25, ...priced('acetylene-225') },
] as const

/** A job as it is planned, and what it really took. */
type Job = Readonly<{ from: number; to: number; cylinders: number; chance: number; took: number }>

export type SiteYear = Readonly<{
  site: SimulatedSite
  jobs: readonly Job[]
  /** Beyond planned work, whole cylinders by day, for each cell. */
  unplanned: readonly (readonly number[])[]
  nextTruck: (day: number) => number
  truckDays: readonly number[]
}>

function jobsOf(chance: Chance, busy: number): Job[] {
  const jobs: Job[] = []
  for (let day = chance.whole(0, 8); day < YEAR_DAYS; day += chance.whole(4, 18)) {
    const cylinders = chance.between(3, 12) * busy
    const isRun = chance.happens(0.85)
    const to = day + chance.whole(2, 8)
    jobs.push({
      from: day,
      to,
      cylinders,
      chance: 0.85,
      took: isRun ? cylinders * chance.factor(0.2) : 0,
    })
  }
  return jobs
}

/** A year at one site: jobs that are known twelve days ahead, some of which are dropped, and use that nobody planned. */
export function siteYear(seed: string, at: number): SiteYear {
  const chance = openChance(`supply year ${seed} ${at}`)
  const jobs = jobsOf(chance.branch('jobs'), chance.between(0.6, 1.4))
  const small = chance.branch('unplanned')
  const unplanned = CELLS.map(({ share }) =>
    Array.from({ length: YEAR_DAYS }, () => (small.happens(0.08 * share) ? 1 : 0)),
  )
  const demand = CELLS.map(({ share }, cell) =>
    Array.from({ length: YEAR_DAYS }, (_, day) => {
      const planned = jobs
        .filter((job) => job.from <= day && day <= job.to)
        .reduce((sum, job) => sum + (job.took * share) / (job.to - job.from + 1), 0)
      return planned + (unplanned[cell]?.[day] ?? 0)
    }),
  )
  // Days are counted from a Monday.
  const weekdays = SITES[at % SITES.length]?.deliveryDays ?? []
  const truckDays = Array.from({ length: YEAR_DAYS + 30 }, (_, day) => day).filter((day) =>
    weekdays.includes((day % 7) + 1),
  )
  const nextTruck = (day: number) => truckDays.find((one) => one >= day + LEAD_DAYS) ?? YEAR_DAYS
  const site: SimulatedSite = {
    cells: CELLS.map(({ full, fillCost, rentPerDay }) => ({ full, fillCost, rentPerDay })),
    visitCost: VISIT_MINOR,
    demand,
  }
  return { site, jobs, unplanned, nextTruck, truckDays }
}

/** What the shop would order by habit: a week's mean use, known exactly, which is more than anybody knows. */
export const usualWeek = ({ site }: SiteYear): number[] =>
  site.demand.map((days) =>
    Math.max(1, Math.round((7 * days.reduce((sum, one) => sum + one, 0)) / days.length)),
  )

/** The plan, made anew every morning; an order is fixed on the last morning on which it can be. */
export function byPlan(year: SiteYear): SupplyRule {
  return ({ day, full, open, empty, coming }) => {
    const cells = CELLS.map((cell, at): PlanCell => {
      const fixedIn = Array.from({ length: PLAN_DAYS }, (_, ahead) =>
        coming
          .filter((order) => order.day === day + ahead)
          .reduce((sum, order) => sum + (order.quantities[at] ?? 0), 0),
      )
      const planned: PlannedTask[] = year.jobs
        .filter((job) => job.to >= day && job.from <= day + KNOWN_DAYS)
        .map((job, i) => {
          const left = job.to - Math.max(job.from, day) + 1
          const share = (left / (job.to - job.from + 1)) * cell.share
          return {
            taskId: String(i),
            cylinders: job.cylinders * share,
            // Once it has begun, it is seen to run or not.
            chance: job.from < day ? (job.took > 0 ? 1 : 0) : job.chance,
            groupId: String(i),
            factorMean: 1,
            factorVariance: 0.15 ** 2,
            taskCv2: 0.02,
            fromDay: Math.max(1, job.from - day + 1),
            toDay: Math.max(1, job.to - day + 1),
          }
        })
      const forecast = forecastSite({
        planned,
        baselineDailyCounts: (year.unplanned[at] ?? []).slice(Math.max(0, day - 90), day),
        stockCylinders: full[at] ?? 0,
        horizonDays: PLAN_DAYS,
      })
      if (!forecast.ok) throw new Error('the forecast was refused')
      const days = forecast.days.map(({ demandMean, demandVariance }) => ({
        mean: demandMean,
        variance: demandVariance,
      }))
      return {
        siteId: 'site',
        gasId: cell.gasId,
        sizeId: cell.sizeId,
        full: full[at] ?? 0,
        inUse: 1,
        empty: empty[at] ?? 0,
        ...coverByDay(days, { service: 0.95, openCylinders: open[at] ?? 0 }),
        fixedIn,
        rentPerDay: cell.rentPerDay,
        demurragePerDay: 0,
        demurrageFromDay: PLAN_DAYS,
        runOutPerDay: RUN_OUT_MINOR,
        grossKg: 70,
      }
    })
    const trucks = year.truckDays.map((one) => one - day)
    const problem: PlanProblem = {
      days: PLAN_DAYS,
      cells,
      suppliers: [
        {
          supplierId: 'supplier',
          siteId: 'site',
          days: trucks.filter((ahead) => ahead >= LEAD_DAYS && ahead < PLAN_DAYS),
          fee: VISIT_MINOR,
          least: 1,
          most: 60,
          prices: Object.fromEntries(CELLS.map((cell) => [cell.sizeId, cell.fillCost])),
          breaks: [],
        },
      ],
      routes: [],
      fleet: { driverHours: [], trainedHours: [], tradeKg: 0, tradeEachKg: 0, papersKg: 0 },
      storage: [],
      manifolds: [],
      coverIs: 'priced',
    }
    return greedyPlan(problem)
      .orders.filter((order) => order.day === LEAD_DAYS)
      .map((order) => ({
        day: day + order.day,
        quantities: CELLS.map(
          (cell) => order.lines.find((line) => line.sizeId === cell.sizeId)?.quantity ?? 0,
        ),
      }))
  }
}
