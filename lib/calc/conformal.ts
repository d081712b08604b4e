import { CalcError, requireNumber } from './errors'

/** Least spread that a score is divided by: a series of noughts must not make every demand a miracle. */
const LEAST_VARIANCE = 0.25

/** Spread that a miss is measured in: never less than that of a Poisson count of the same mean. */
export const scoreSpread = (mean: number, variance: number): number =>
  Math.sqrt(Math.max(variance, mean, LEAST_VARIANCE))

/**
 * How far a total lay above its forecast, in spreads.
 *
 * @param seen mean and variance that were forecast for the window, and the total that came
 * @returns (total − mean) / √max(variance, mean, 1/4)
 */
export function conformalScore(seen: { mean: number; variance: number; total: number }): number {
  return (seen.total - seen.mean) / scoreSpread(seen.mean, seen.variance)
}

/**
 * Rank of the score that a bound of a given chance is read at: ⌈(n + 1) q⌉.
 *
 * @param count scores there are
 * @param probability 0 to 1, both excluded
 * @returns rank from 1, or null where there are too few scores for that chance (fewer than 19 for 0.95)
 * @throws {CalcError} OUT_OF_RANGE
 * @source split conformal prediction, rank rule as in the documentation of the R package rtemis
 */
export function conformalRank(count: number, probability: number): number | null {
  requireNumber('count', count, { min: 0 })
  if (!(probability > 0 && probability < 1))
    throw new CalcError('OUT_OF_RANGE', 'probability', probability)
  const rank = Math.ceil((count + 1) * probability - 1e-9)
  return rank <= count ? rank : null
}

/**
 * The score that future windows stay at or below with a probability.
 *
 * @param ascending scores of past windows that were forecast without seeing them, least first
 * @param probability 0 to 1, both excluded
 * @returns score, or null where there are too few
 */
export function conformalQuantile(
  ascending: ArrayLike<number>,
  probability: number,
): number | null {
  const rank = conformalRank(ascending.length, probability)
  return rank === null ? null : (ascending[rank - 1] ?? null)
}

/**
 * Whole units that demand stays at or below, by the score of its class.
 *
 * @param forecast mean and variance over the window, and the score
 * @returns whole number, not below nought
 * @source mean + score × √max(variance, mean, 1/4), rounded down: a whole demand is below it or it is not
 */
export function conformalBound(forecast: {
  mean: number
  variance: number
  score: number
}): number {
  const { mean, variance, score } = forecast
  return Math.max(0, Math.floor(mean + score * scoreSpread(mean, variance) + 1e-9))
}

/**
 * Moves the chance that is asked for after each window, so that coverage holds while demand drifts.
 *
 * @param alpha chance of a miss that is asked for now; `target` the chance that is wanted
 * @param missed whether the last window passed its bound
 * @param step how fast; 0.01 unless given
 * @returns the next alpha, kept between 0.001 and 0.5
 * @source adaptive conformal inference (Gibbs & Candès 2021, from memory): α + γ (target − miss)
 */
export function adaptAlpha(
  { alpha, target }: { alpha: number; target: number },
  missed: boolean,
  step = 0.01,
): number {
  return Math.min(0.5, Math.max(0.001, alpha + step * (target - (missed ? 1 : 0))))
}
