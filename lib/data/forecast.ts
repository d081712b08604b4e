import 'server-only'
import { WEAK_PRIOR } from '@/lib/calc/baseline-demand'
import type { DemandClass } from '@/lib/calc/demand-class'
import type { DemandMethod } from '@/lib/calc/demand-methods'
import { demandBy, forecastSite, outlookOfSite } from '@/lib/calc/forecast'
import type {
  ForecastInput,
  PlannedTask,
  SiteForecast,
  SiteOutlook,
} from '@/lib/calc/forecast-types'
import { BOUND_DAYS, learnUnplanned, widening } from '@/lib/calc/learned-demand'
import type { Refused } from '@/lib/calc/refusal'
import type { SizeRow } from './contents'
import { type CrewUsed, crewsOf } from './crew-factors'
import { HORIZON_DAYS } from './forecast-horizon'
import { HISTORY_DAYS, type PlannedRow, readForecastRows } from './forecast-rows'
import {
  bySite,
  gasesOf,
  gasOfJob,
  historyOf,
  mainSize,
  type SiteRows,
  usableKgOf,
} from './forecast-series'
import { type LearnedDemand, type LearnedRule, priorKey, readLearned } from './learned-demand'

/** The chance at which a site counts as short. */
export const SHORT_CHANCE = 0.1
/** Spread of a crew around the tables before any factor is learned: judgement, no source. */
const CREW_VARIANCE = 0.15 ** 2

/** What an order must cover: the days until it comes, and from then until the next could come. */
export type OrderCover = Readonly<{ leadDays: number; reviewDays: number }>
const USUAL_COVER: OrderCover = { leadDays: 2, reviewDays: 7 }

/** One size of a gas at a site: whole ones that are full, what hangs or stands open, and what is ordered. */
export type SizeHere = Readonly<{
  sizeId: string
  usableKg: number
  full: number
  openCylinders: number
  /** By days from today. */
  ordered: readonly Readonly<{ day: number; quantity: number }>[]
}>

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
  /** Each size for itself, the one that is counted in first. */
  sizes: readonly SizeHere[]
  /** Day on which the last of the planned work ends; null where nothing is planned. */
  lastPlannedDay: number | null
  plannedCylinders: number
  /** By what its unplanned use is forecast, and how that did on all series of its class. */
  learned: Readonly<{
    demandClass: DemandClass
    method: DemandMethod
    /** Past misses of its class at 0.95, in spreads; null while too few are known. */
    score: number | null
    /** Sites alike that it starts from; null where its own use is enough. */
    startsFrom: number | null
    judged: LearnedRule['judged']
  }>
}>
export type GasForecast = SiteGas & Readonly<{ forecast: SiteForecast }>
export type GasOutlook = SiteGas & Readonly<{ forecast: SiteOutlook }>

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0)

/** What forecasts of all sites are made with. */
type Known = Readonly<{
  learned: LearnedDemand
  crewOf: (siteId: string, crewId: string | null) => CrewUsed | null
}>

/** How a job's crew runs beside its estimate: learned since, where the estimate did not know it yet. */
function factorOf(job: PlannedRow, { crewOf }: Known) {
  const crew = crewOf(job.site_id, job.crew_id)
  if (!crew) return { factorMean: 1, factorVariance: CREW_VARIANCE }
  const factorMean = crew.mean / (job.crew_factor ?? 1)
  return { factorMean, factorVariance: (crew.standardUncertainty * (factorMean / crew.mean)) ** 2 }
}

type Counted = Readonly<{ gasId: string; usableKg: number }>

function tasksOf(
  jobs: readonly PlannedRow[],
  { gasId, usableKg }: Counted,
  known: Known,
): PlannedTask[] {
  return jobs
    .filter((job) => job.state === 'planned' || job.state === 'running')
    .flatMap((job) => {
      const gas = gasOfJob(job, gasId)
      if (!gas || gas.kg <= 0 || job.left <= 0) return []
      const fromDay = Math.max(1, job.from_days + 1)
      const task: PlannedTask = {
        taskId: job.job_id,
        cylinders: (gas.kg * job.left) / usableKg,
        chance: job.chance,
        groupId: job.crew_id ?? job.job_id,
        ...factorOf(job, known),
        taskCv2: (gas.uKg / gas.kg) ** 2,
        fromDay,
        toDay: Math.max(fromDay, job.to_days + 1),
      }
      // What has begun is not late any more.
      return [job.state === 'planned' ? { ...task, lateChances: known.learned.lateChances } : task]
    })
}

/** By which method a series is forecast, and where it starts if it has hardly any history. */
function usualOf({ learned }: Known, of: { siteId: string; gasId: string }, counts: number[]) {
  const prior = learned.priors[priorKey(of.siteId, of.gasId)] ?? learned.fleet[of.gasId] ?? null
  // Where nothing is known of sites alike, days before the first count as days on which nothing was used.
  const before = prior ? [] : new Array<number>(HISTORY_DAYS - counts.length).fill(0)
  const own = learnUnplanned([...before, ...counts], learned.rules, prior ?? WEAK_PRIOR)
  const rule = learned.rules.find((one) => one.demandClass === own.demandClass)
  return {
    usual: own.usual,
    learned: {
      demandClass: own.demandClass,
      method: own.method,
      score: rule?.score ?? null,
      startsFrom: own.demandClass === 'sparse' ? (prior?.sites ?? 0) : null,
      judged: rule?.judged ?? null,
    },
  }
}

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

/** Sizes of a gas that stand at a site or are on their way, and the one that is counted in. */
function sizesHere(rows: SiteRows, gasId: string, main: SizeRow): SizeHere[] {
  const ids = [...rows.stock, ...rows.arrivals]
    .filter((row) => row.gas_id === gasId)
    .map((row) => row.size_id)
  return [...new Set([main.id, ...ids])].flatMap((sizeId) => {
    const size = rows.sizes.find((one) => one.id === sizeId)
    const usableKg = size ? usableKgOf(size) : 0
    if (usableKg <= 0) return []
    const stock = rows.stock.find((row) => row.size_id === sizeId)
    const full = stock?.full ?? 0
    return [
      {
        sizeId,
        usableKg,
        full,
        openCylinders: Math.max(0, (stock?.usable_kg ?? 0) / usableKg - full),
        ordered: rows.arrivals
          .filter((row) => row.size_id === sizeId)
          .map((row) => ({ day: row.in_days - 1, quantity: row.quantity })),
      },
    ]
  })
}

/** A gas at a site, and what its forecast rests on; null where it has no size to be counted in. */
function gasAtSite(
  rows: SiteRows,
  { siteId, gasId }: { siteId: string; gasId: string },
  known: Known,
) {
  const size = mainSize(rows, gasId)
  if (!size) return null
  const usableKg = usableKgOf(size)
  if (usableKg <= 0) return null
  const here = rows.stock.filter((row) => row.gas_id === gasId)
  const planned = tasksOf(rows.planned, { gasId, usableKg }, known)
  const counts = [...historyOf(rows, gasId, usableKg).unplanned]
  const { usual, learned } = usualOf(known, { siteId, gasId }, counts)
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
    sizes: sizesHere(rows, gasId, size),
    lastPlannedDay: lastDay > 0 ? lastDay : null,
    plannedCylinders: sum(planned.map((task) => task.cylinders * task.chance)),
    learned,
  }
  const input: ForecastInput = {
    planned,
    baselineDailyCounts: counts,
    unplanned: usual,
    widenBy: widening(demandBy({ planned }, usual, BOUND_DAYS), learned.score),
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

async function gasesAtSites(siteIds: readonly string[]) {
  const rows = await readForecastRows(siteIds)
  const known: Known = { learned: readLearned(rows.demand), crewOf: crewsOf(rows.crews) }
  const rowsOf = bySite(rows)
  return siteIds.flatMap((siteId) => {
    const own = rowsOf(siteId)
    return gasesOf(own)
      .map((gasId) => gasAtSite(own, { siteId, gasId }, known))
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
