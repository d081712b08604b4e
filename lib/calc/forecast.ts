import { type BaselineState, learnBaseline, WEAK_PRIOR } from './baseline-demand'
import { type Demand, demandCdf, demandQuantiles } from './demand'
import { forecastRefusals } from './forecast-check'
import {
  FORECAST_PROBABILITIES,
  type ForecastDay,
  type ForecastInput,
  type ForecastOutcome,
  type OutlookOutcome,
  type SiteForecast,
  type SiteOutlook,
  type UnplannedDemand,
} from './forecast-types'
import { rateDemand, unplannedDemand } from './learned-demand'
import { criticalRatio, expectedCost, orderUpToLevel, periodicReviewService } from './order-level'
import { plannedDemand, shareDoneBy } from './planned-demand'
import { refuse } from './refusal'
import { source } from './trace'
import { CALC_VERSION } from './version'

const DEFAULT_CHANCE = 0.05
const DEFAULT_LEAD_DAYS = 2
const DEFAULT_REVIEW_DAYS = 1

/**
 * Cylinders of one gas at one site, day by day: demand, what is left, when it runs short, what to order.
 *
 * Planned tasks (with the chance that they run and their crew's factor) and a gamma-Poisson baseline add up
 * in mean and variance; the sum is fitted as negative binomial and its quantiles are read by walking the pmf.
 *
 * @param input planned tasks, daily counts, stock, arrivals, horizon, lead time; in whole-cylinder equivalents
 * @returns quantiles by day, days until short at the chosen chance, order-up-to; or refusals
 * @remarks The chance of having been short by a day is the highest chance up to it, a lower bound.
 *   Corrected by past forecasts only where `widenBy` says so: without it bounds of 0.99 covered about 0.98 in
 *   published back-tests.
 * @source `plannedDemand`, `baselineDemand`, `demandQuantile`, `orderUpToLevel`
 */
export function forecastSite(input: ForecastInput): ForecastOutcome {
  const refusals = forecastRefusals(input)
  if (refusals.length > 0) return refuse(refusals)
  const chance = input.chance ?? DEFAULT_CHANCE
  const baseline = learnBaseline(input.baselineDailyCounts, input.prior ?? WEAK_PRIOR)
  const usual = usualOf(input, baseline)
  const days = Array.from({ length: input.horizonDays }, (_, i) => forecastDay(input, usual, i + 1))
  return {
    ok: true,
    calcVersion: CALC_VERSION,
    days,
    ...shortDays(
      days.map((day) => day.shortChance),
      chance,
    ),
    orderUpTo: orderUpTo(input, usual, chance),
    baseline: { ...baseline, meanPerDay: usual.meanPerDay },
    source: source(
      'forecastOfSite',
      {
        plannedTasks: [input.planned.length, '1'],
        historyDays: [input.baselineDailyCounts.length, 'day'],
        baselineCylinders: [baseline.cylinders, '1'],
        baselineDays: [baseline.days, 'day'],
        stockCylinders: [input.stockCylinders, '1'],
        chance: [chance, '1'],
      },
      { provenance: 'derived' },
    ),
  }
}

/**
 * When a site runs short, and nothing else of its forecast: for a sheet of many sites.
 *
 * @param input as for `forecastSite`
 * @returns the same days as `forecastSite` finds; or refusals
 */
export function outlookOfSite(input: ForecastInput): OutlookOutcome {
  const refusals = forecastRefusals(input)
  if (refusals.length > 0) return refuse(refusals)
  const chance = input.chance ?? DEFAULT_CHANCE
  const usual = usualOf(input, learnBaseline(input.baselineDailyCounts, input.prior ?? WEAK_PRIOR))
  const chances: number[] = []
  const enough = Math.max(chance, ...FORECAST_PROBABILITIES)
  for (let day = 1; day <= input.horizonDays && (chances.at(-1) ?? 0) < enough; day += 1)
    chances.push(shortChanceBy(input, demandBy(input, usual, day), day))
  return { ok: true, ...shortDays(chances, chance) }
}

const usualOf = (input: ForecastInput, baseline: BaselineState): UnplannedDemand =>
  input.unplanned ?? rateDemand(baseline)

/** Demand from now to the end of a day, planned and not, as wide as past misses make it. */
export function demandBy(
  input: Pick<ForecastInput, 'planned' | 'widenBy'>,
  usual: UnplannedDemand,
  day: number,
): Demand {
  const begun = input.planned.filter((task) => task.fromDay <= day)
  const planned = plannedDemand(begun, (task) => shareDoneBy(task, day))
  const other = unplannedDemand(usual, day)
  return {
    mean: planned.mean + other.mean,
    variance: (input.widenBy ?? 1) * (planned.variance + other.variance),
    kind: 'count',
  }
}

function forecastDay(input: ForecastInput, usual: UnplannedDemand, day: number): ForecastDay {
  const demand = demandBy(input, usual, day)
  const available = input.stockCylinders + arrivedBy(input, day)
  const quantiles = demandQuantiles(demand, FORECAST_PROBABILITIES)
  return {
    day,
    demandMean: demand.mean,
    demandVariance: demand.variance,
    demandQuantiles: quantiles,
    // Little is left when much is asked for: the chances run the other way.
    remainingQuantiles: [...quantiles]
      .reverse()
      .map((quantile) => Math.max(0, available - quantile)),
    shortChance: shortChanceBy(input, demand, day),
  }
}

/** Chance that demand has passed stock and arrivals by the end of a day. */
function shortChanceBy(input: ForecastInput, demand: Demand, day: number): number {
  return 1 - demandCdf(demand, input.stockCylinders + arrivedBy(input, day))
}

function arrivedBy(input: ForecastInput, day: number): number {
  return (input.arrivals ?? [])
    .filter((arrival) => arrival.day <= day)
    .reduce((sum, arrival) => sum + arrival.cylinders, 0)
}

/** The first day on which the chance of being short, by day from the first, reaches each that counts. */
function shortDays(chances: readonly number[], chance: number): SiteOutlook {
  const firstDay = (probability: number): number | null => {
    const index = chances.findIndex((one) => one >= probability)
    return index < 0 ? null : index + 1
  }
  return {
    daysUntilShort: firstDay(chance),
    shortDayQuantiles: FORECAST_PROBABILITIES.map((probability) => ({
      probability,
      day: firstDay(probability),
    })),
  }
}

function orderUpTo(
  input: ForecastInput,
  usual: UnplannedDemand,
  chance: number,
): SiteForecast['orderUpTo'] {
  const leadDays = input.leadTimeDays ?? DEFAULT_LEAD_DAYS
  const overDays = leadDays + (input.reviewDays ?? DEFAULT_REVIEW_DAYS)
  const service = input.costs ? criticalRatio(input.costs) : 1 - chance
  const demand = demandBy(input, usual, overDays)
  const leadTimeDemand = demandBy(input, usual, leadDays)
  const level = orderUpToLevel({ demand, service })
  const position = input.stockCylinders + arrivedBy(input, overDays)
  return {
    level,
    orderCylinders: Math.max(0, Math.ceil(level - position - 1e-9)),
    overDays,
    service,
    ...periodicReviewService({ leadTimeDemand, protectedDemand: demand, level }),
    expectedCost: input.costs ? expectedCost({ demand, level, costs: input.costs }) : null,
  }
}
