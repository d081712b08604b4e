import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile'
import { CalcError, requireNumber } from './errors'

/** Demand by its moments. Counts are whole cylinders; amounts are any positive measure. */
export type Demand = { mean: number; variance: number; kind: 'count' | 'amount' }

/** Below this ratio of variance to mean a count is Poisson. */
const POISSON_RATIO = 1.0001

/** p(k + 1) = p(k) (start + slope k) / (k + 1), from p(0) = exp(logFirst). */
type Walk = { logFirst: number; start: number; slope: number }

/** Poisson or negative binomial with the given moments, as a recursion from nought up. */
function walkOf({ mean, variance }: Demand): Walk {
  if (variance <= POISSON_RATIO * mean) return { logFirst: -mean, start: mean, slope: 0 }
  const p = mean / variance
  const r = mean ** 2 / (variance - mean)
  return { logFirst: r * Math.log(p), start: (1 - p) * r, slope: 1 - p }
}

function checkDemand(demand: Demand): void {
  requireNumber('mean', demand.mean, { min: 0, max: 1e5 })
  requireNumber('variance', demand.variance, { min: 0, max: 1e10 })
}

/** Below this the first terms are smaller than the smallest double, and only their logarithm is kept. */
const LEAST_LOG = -700

/** Walks the counts, giving each k with its cumulative probability, until `stop` says so. */
function walk(
  demand: Demand,
  stop: (k: number, cumulative: number) => boolean,
): { k: number; cumulative: number } {
  const { logFirst, start, slope } = walkOf(demand)
  const limit = demand.mean + 60 * Math.sqrt(demand.variance + demand.mean) + 1000
  let k = 0
  let log = logFirst
  let term = Math.exp(log)
  let cumulative = term
  while (!stop(k, cumulative)) {
    if (k > limit) throw new CalcError('OUT_OF_RANGE', 'count', k, { max: limit })
    const ratio = (start + slope * k) / (k + 1)
    if (log < LEAST_LOG) {
      log += Math.log(ratio)
      term = Math.exp(log)
    } else term *= ratio
    k += 1
    cumulative = Math.min(1, cumulative + term)
  }
  return { k, cumulative }
}

/**
 * Smallest demands that are not exceeded with the given probabilities, from one walk over the counts.
 *
 * @param demand mean and variance; counts are fitted by moments as Poisson or negative binomial, amounts
 *   as normal, cut off at nought
 * @param probabilities each above 0 and below 1, none below the one before
 * @returns whole numbers for counts, scalars for amounts, in the order asked
 * @throws {CalcError} OUT_OF_RANGE
 * @source moments: p = mean/var, r = mean²/(var − mean); pmf recursion
 */
export function demandQuantiles(demand: Demand, probabilities: readonly number[]): number[] {
  checkDemand(demand)
  for (const [index, probability] of probabilities.entries())
    requireNumber('probability', probability, {
      min: Math.max(1e-9, probabilities[index - 1] ?? 0),
      max: 1 - 1e-9,
    })
  if (demand.mean === 0) return probabilities.map(() => 0)
  if (demand.kind === 'amount')
    return probabilities.map((probability) =>
      Math.max(0, normalQuantile(probability, demand.mean, Math.sqrt(demand.variance))),
    )
  const found: number[] = []
  walk(demand, (k, cumulative) => {
    // A sum of many terms may miss the probability in the last digits.
    while (cumulative >= (probabilities[found.length] ?? Number.POSITIVE_INFINITY) - 1e-12)
      found.push(k)
    return found.length === probabilities.length
  })
  return found
}

/**
 * Smallest demand that is not exceeded with the given probability.
 *
 * @param demand as for `demandQuantiles`
 * @param probability above 0 and below 1
 * @returns whole number for counts, scalar for amounts
 * @throws {CalcError} OUT_OF_RANGE
 */
export function demandQuantile(demand: Demand, probability: number): number {
  return demandQuantiles(demand, [probability])[0] ?? 0
}

/**
 * Chance that demand is no more than a level.
 *
 * @param demand as for `demandQuantile`
 * @param level scalar; the whole part counts for counts
 * @returns scalar from 0 to 1
 * @throws {CalcError} OUT_OF_RANGE
 */
export function demandCdf(demand: Demand, level: number): number {
  checkDemand(demand)
  requireNumber('level', level)
  if (level < 0) return 0
  if (demand.mean === 0) return 1
  if (demand.kind === 'amount') return normalCdf(level, demand.mean, Math.sqrt(demand.variance))
  const whole = Math.floor(level + 1e-9)
  return walk(demand, (k, cumulative) => k >= whole || cumulative >= 1).cumulative
}

/**
 * Mean of what demand is above a level: E[(D − level)+].
 *
 * @param demand as for `demandQuantile`
 * @param level scalar >= 0; whole for counts
 * @returns scalar >= 0, in the unit of demand
 * @throws {CalcError} OUT_OF_RANGE
 * @source normal: sigma (phi(z) − z (1 − Phi(z))); counts: mean − Σ_{k < level} (1 − F(k))
 */
export function expectedShortage(demand: Demand, level: number): number {
  checkDemand(demand)
  requireNumber('level', level, { min: 0 })
  if (demand.mean === 0) return 0
  if (demand.kind === 'amount') {
    const sigma = Math.sqrt(demand.variance)
    const z = (level - demand.mean) / sigma
    return sigma * (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI) - z * normalCdf(-z, 0, 1))
  }
  const sum = { covered: 0 }
  walk(demand, (k, cumulative) => {
    if (k >= level) return true
    sum.covered += 1 - cumulative
    return false
  })
  return Math.max(0, demand.mean - sum.covered)
}
