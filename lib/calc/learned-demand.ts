import { type BaselineState, baselineDemand, learnBaseline } from './baseline-demand'
import { conformalBound } from './conformal'
import { type Demand, demandQuantile } from './demand'
import { chooseMethods, type PastWindow } from './demand-choice'
import { classOf, type DemandClass } from './demand-class'
import {
  type DemandMethod,
  type DemandState,
  demandMean,
  demandVariance,
  emptyDemand,
  learnDemand,
} from './demand-methods'
import type { UnplannedDemand } from './forecast-types'

/** Days that a bound is learned over: what one truck covers. */
export const BOUND_DAYS = 7
/** The chance that bounds are learned at. */
export const BOUND_CHANCE = 0.95
const SCORE_AT = 1
/** Past misses widen a forecast, but not past all reason; they never make it narrower than its own model. */
const MOST_WIDER = 25
const STEP = 1.1

/** How a class of demand is forecast, and how far its high end lay above its forecast, in spreads. */
export type ClassRule = Readonly<{
  demandClass: DemandClass
  method: DemandMethod
  /** Null while there are too few windows for it. */
  score: number | null
  windows: number
}>

/**
 * For each class the method whose bounds cost least on past windows, with its score at 0.95.
 *
 * Where hardly anything was used yet no method can be told from another: the rate is taken, which starts from
 * sites alike.
 */
export function classRules(windows: readonly PastWindow[]): ClassRule[] {
  return chooseMethods(windows).map((choice) => {
    const record =
      choice.demandClass === 'sparse'
        ? (choice.methods.find(({ method }) => method === 'rate') ?? choice.chosen)
        : choice.chosen
    return {
      demandClass: choice.demandClass,
      method: record.method,
      score: record.scores[SCORE_AT] ?? null,
      windows: choice.windows,
    }
  })
}

/** A rate as moments: negative binomial over H days. */
export function rateDemand(state: BaselineState): UnplannedDemand {
  const { mean } = baselineDemand(state, 1)
  return { meanPerDay: mean, variancePerDay: mean, variancePerDaySquared: mean / state.days }
}

/** Mean and variance of unplanned demand over a number of days. */
export const unplannedDemand = (usual: UnplannedDemand, days: number) => ({
  mean: usual.meanPerDay * days,
  variance: usual.variancePerDay * days + usual.variancePerDaySquared * days ** 2,
})

/** No count is surer than that of chance alone; past misses are measured in the same spread. */
const spreadOf = (state: DemandState, { meanPerDay }: Pick<UnplannedDemand, 'meanPerDay'>) => ({
  variancePerDay: Math.max(meanPerDay, demandVariance(state)),
})

function methodDemand(state: DemandState, meanPerDay: number): UnplannedDemand {
  return { meanPerDay, ...spreadOf(state, { meanPerDay }), variancePerDaySquared: 0 }
}

/**
 * What a series will use beyond its plans, by the method of its class.
 *
 * @param counts whole cylinders by day, oldest first; none before the site was there
 * @param rules one a class at most; without one the rate is taken
 * @param prior where the rate starts from: that of sites alike
 * @returns moments, and by which class and method
 */
export function learnUnplanned(
  counts: readonly number[],
  rules: readonly ClassRule[],
  prior: BaselineState,
): Readonly<{ demandClass: DemandClass; method: DemandMethod; usual: UnplannedDemand }> {
  const state = emptyDemand()
  for (const count of counts) learnDemand(state, count)
  const { demandClass } = classOf(state)
  const method = rules.find((rule) => rule.demandClass === demandClass)?.method ?? 'rate'
  if (method !== 'rate')
    return { demandClass, method, usual: methodDemand(state, demandMean(state, method)) }
  const rate = rateDemand(learnBaseline(counts, prior))
  return { demandClass, method, usual: { ...rate, ...spreadOf(state, rate) } }
}

/**
 * What demand stays at or below with a chance: by its distribution or by past misses of its class, whichever is more.
 *
 * @param demand mean and variance of a count
 * @param service chance, 0 to 1
 * @param score of its class at that chance; null while none is known
 * @returns whole number
 */
export function coveredBound(
  demand: Omit<Demand, 'kind'>,
  { service, score }: { service: number; score: number | null },
): number {
  const own = demandQuantile({ ...demand, kind: 'count' }, service)
  return score === null ? own : Math.max(own, conformalBound({ ...demand, score }))
}

/**
 * How much wider a forecast has to be so that its high end comes as near as it can to where past misses of its class
 * put it: for what is drawn and said of chances. What is ordered goes by `coveredBound`, which reaches it.
 *
 * @param demand mean and variance over the days that the score was learned over
 * @param score of its class at 0.95; null while none is known
 * @returns factor of the variance, 1 where the model's own high end is as high already
 */
export function widening(demand: Omit<Demand, 'kind'>, score: number | null): number {
  if (score === null || demand.mean <= 0) return 1
  const wanted = conformalBound({ ...demand, score })
  let best = { factor: 1, bound: 0 }
  // A count of much variance and little mean is nought more often: the high end may fall again.
  for (let factor = 1; factor <= MOST_WIDER; factor *= STEP) {
    const variance = factor * demand.variance
    const bound = demandQuantile({ mean: demand.mean, variance, kind: 'count' }, BOUND_CHANCE)
    if (bound >= wanted) return factor
    if (bound > best.bound) best = { factor, bound }
  }
  return best.factor
}
