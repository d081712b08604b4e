import { requireNumber } from './errors'
import type { Interval90 } from './source'
import { normalInterval, quadrature } from './stats'

/** Where a job's use went, line by line: the first three add up to the last. */
export type JobAccount = {
  estimate: Interval90
  /** What its crew is known to take beyond the table; nought where nothing is known. */
  allowance: Interval90
  /** What neither explains. */
  rest: Interval90
  usage: Interval90
}

type Amount = { mean: number; standardUncertainty: number }

/**
 * A job's use as estimate, allowance for its crew and what is left.
 *
 *     allowance = (F − 1) E    rest = U − F E    u²(rest) = u²(U) + (F u(E))² + (E u(F))²
 *
 * @param known estimate and use, kg, mean >= 0; the crew's factor of use over estimate, 1 ± 0 where none is known
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE
 * @source GUM 5.1.2
 * @example accountFor({ estimate: { mean: 10, standardUncertainty: 1 }, usage: { mean: 13, standardUncertainty: 0.5 },
 *   factor: { mean: 1.2, standardUncertainty: 0.05 } }).allowance.mean // 2
 */
export function accountFor(known: {
  estimate: Interval90
  usage: Interval90
  factor: Amount | null
}): JobAccount {
  const { estimate, usage } = known
  const factor = known.factor ?? { mean: 1, standardUncertainty: 0 }
  requireNumber('factor.mean', factor.mean, { above: 0 })
  requireNumber('factor.standardUncertainty', factor.standardUncertainty, { min: 0 })
  requireNumber('estimate.mean', estimate.mean, { min: 0 })
  requireNumber('usage.mean', usage.mean, { min: 0 })
  const byFactor = estimate.mean * factor.standardUncertainty
  const allowance = (factor.mean - 1) * estimate.mean
  return {
    estimate,
    usage,
    allowance: normalInterval({
      mean: allowance,
      standardUncertainty: quadrature([byFactor, (factor.mean - 1) * estimate.standardUncertainty]),
    }),
    rest: normalInterval({
      mean: usage.mean - estimate.mean - allowance,
      standardUncertainty: quadrature([
        usage.standardUncertainty,
        factor.mean * estimate.standardUncertainty,
        byFactor,
      ]),
    }),
  }
}

/** What an account leaves, in its own deviations; nought where nothing is in doubt. @source definition */
export const restDeviations = ({ rest }: JobAccount): number =>
  rest.standardUncertainty > 0 ? rest.mean / rest.standardUncertainty : 0
