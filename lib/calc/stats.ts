import normalQuantile from '@stdlib/stats-base-dists-normal-quantile'
import { requireNumber } from './errors'
import type { Interval90 } from './source'

/** Standard normal quantile at 0.95: half of a 90 % interval in standard deviations. */
export const Z_90 = normalQuantile(0.95, 0, 1)

/** Square root of the sum of squares. */
export function quadrature(parts: readonly number[]): number {
  return Math.sqrt(parts.reduce((sum, part) => sum + part * part, 0))
}

/** Standard uncertainty of a quantity known only to lie within ± halfWidth. @source GUM 4.3.7. */
export function rectangular(halfWidth: number): number {
  return halfWidth / Math.sqrt(3)
}

/**
 * Lognormal 90 % interval with the given mean and standard deviation.
 *
 * @param input mean > 0 and standardUncertainty >= 0
 * @returns the interval; its ends are positive, and the mean lies inside while
 *   standardUncertainty is under 224 times the mean
 * @throws {CalcError} OUT_OF_RANGE
 * @source Moments of the lognormal: sigma² = ln(1 + cv²), mu = ln(mean) − sigma²/2.
 */
export function lognormalInterval(input: {
  mean: number
  standardUncertainty: number
}): Interval90 {
  const { mean, standardUncertainty } = input
  requireNumber('mean', mean, { min: 0 })
  requireNumber('standardUncertainty', standardUncertainty, { min: 0 })
  if (mean === 0) return { mean, standardUncertainty, low90: 0, high90: Z_90 * standardUncertainty }
  const sigma2 = Math.log1p((standardUncertainty / mean) ** 2)
  const centre = Math.log(mean) - sigma2 / 2
  const half = Z_90 * Math.sqrt(sigma2)
  // With no uncertainty, exp(log(mean)) may miss the mean in the last digit.
  const low90 = Math.min(mean, Math.exp(centre - half))
  return { mean, standardUncertainty, low90, high90: Math.max(mean, Math.exp(centre + half)) }
}

/** Normal 90 % interval, kept inside physical bounds. */
export function normalInterval(input: {
  mean: number
  standardUncertainty: number
  min?: number
  max?: number
}): Interval90 {
  const { mean, standardUncertainty, min = -Infinity, max = Infinity } = input
  const half = Z_90 * standardUncertainty
  return {
    mean,
    standardUncertainty,
    low90: Math.min(mean, Math.max(min, mean - half)),
    high90: Math.max(mean, Math.min(max, mean + half)),
  }
}

/** Quantiles of a normal quantity where a drawing shows teeth: 5, 27.5, 50, 72.5 and 95 %. */
export function normalQuantiles(input: { mean: number; standardUncertainty: number }) {
  const at = (probability: number) =>
    input.standardUncertainty === 0
      ? input.mean
      : input.mean + input.standardUncertainty * normalQuantile(probability, 0, 1)
  return { p05: at(0.05), p275: at(0.275), p50: at(0.5), p725: at(0.725), p95: at(0.95) }
}
