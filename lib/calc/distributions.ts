import upperGamma from '@stdlib/math-base-special-gammainc'
import chiSquareCdfOf from '@stdlib/stats-base-dists-chisquare-cdf'
import chiSquareQuantileOf from '@stdlib/stats-base-dists-chisquare-quantile'
import gammaCdfOf from '@stdlib/stats-base-dists-gamma-cdf'
import gammaQuantileOf from '@stdlib/stats-base-dists-gamma-quantile'
import negativeBinomialCdfOf from '@stdlib/stats-base-dists-negative-binomial-cdf'
import negativeBinomialQuantileOf from '@stdlib/stats-base-dists-negative-binomial-quantile'
import normalCdfOf from '@stdlib/stats-base-dists-normal-cdf'
import normalQuantileOf from '@stdlib/stats-base-dists-normal-quantile'
import poissonCdfOf from '@stdlib/stats-base-dists-poisson-cdf'
import poissonQuantileOf from '@stdlib/stats-base-dists-poisson-quantile'
import tCdfOf from '@stdlib/stats-base-dists-t-cdf'
import tQuantileOf from '@stdlib/stats-base-dists-t-quantile'
import { CalcError, requireNumber } from './errors'

/** A family with its parameters; rates are per unit of the variable. */
export type Distribution =
  | { family: 'normal'; mean: number; sd: number }
  | { family: 'chi-square'; dof: number }
  | { family: 't'; dof: number }
  | { family: 'gamma'; shape: number; rate: number }
  | { family: 'poisson'; mean: number }
  | { family: 'negative-binomial'; size: number; probability: number }

const known = (value: number): number => {
  if (Number.isNaN(value)) throw new CalcError('OUT_OF_RANGE', 'distribution', value)
  return value
}

/**
 * Probability of a value at or below `x`.
 *
 * @param distribution family and parameters: sd, dof, shape, rate, size > 0; mean of counts >= 0
 * @param x finite scalar
 * @returns 0 to 1
 * @throws {CalcError} NOT_FINITE; OUT_OF_RANGE where a parameter is outside its range
 * @source @stdlib; agrees with a second library to 1e-7 (normal, chi-square, gamma, counts to 1e-9)
 * @example cumulative({ family: 'chi-square', dof: 1 }, 3.841458821) // 0.95
 */
export function cumulative(distribution: Distribution, x: number): number {
  requireNumber('x', x)
  switch (distribution.family) {
    case 'normal':
      return known(normalCdfOf(x, distribution.mean, distribution.sd))
    case 'chi-square':
      return known(chiSquareCdfOf(x, distribution.dof))
    case 't':
      return known(tCdfOf(x, distribution.dof))
    case 'gamma':
      return known(gammaCdfOf(x, distribution.shape, distribution.rate))
    case 'poisson':
      return known(poissonCdfOf(x, distribution.mean))
    case 'negative-binomial':
      return known(negativeBinomialCdfOf(x, distribution.size, distribution.probability))
  }
}

/**
 * Smallest value whose cumulative probability reaches `probability`.
 *
 * @param distribution as for `cumulative`
 * @param probability 0 to 1, both excluded
 * @throws {CalcError} OUT_OF_RANGE
 * @source as `cumulative`; Student's t to 1e-7
 * @example quantile({ family: 'normal', mean: 0, sd: 1 }, 0.975) // 1.959964
 */
export function quantile(distribution: Distribution, probability: number): number {
  requireNumber('probability', probability, { above: 0, max: 1 - Number.EPSILON / 2 })
  switch (distribution.family) {
    case 'normal':
      return known(normalQuantileOf(probability, distribution.mean, distribution.sd))
    case 'chi-square':
      return known(chiSquareQuantileOf(probability, distribution.dof))
    case 't':
      return known(tQuantileOf(probability, distribution.dof))
    case 'gamma':
      return known(gammaQuantileOf(probability, distribution.shape, distribution.rate))
    case 'poisson':
      return known(poissonQuantileOf(probability, distribution.mean))
    case 'negative-binomial':
      return known(
        negativeBinomialQuantileOf(probability, distribution.size, distribution.probability),
      )
  }
}

/**
 * Probability of a chi-square value above `x`, exact far out where 1 − cumulative has no digits left.
 *
 * @param x statistic >= 0
 * @param dof degrees of freedom > 0
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE
 * @source regularised upper incomplete gamma function at dof/2, x/2
 */
export function chiSquareAbove(x: number, dof: number): number {
  requireNumber('x', x, { min: 0 })
  requireNumber('dof', dof, { above: 0 })
  return upperGamma(x / 2, dof / 2, true, true)
}

/** Probability that a standard normal value lies further from nought than `z`, either side. */
export function normalBeyond(z: number): number {
  return 2 * normalCdfOf(-Math.abs(requireNumber('z', z)), 0, 1)
}
