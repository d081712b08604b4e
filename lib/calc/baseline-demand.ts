import { requireNumber } from './errors'

/** What is known of a daily rate: so many cylinders over so many days, old days counting less. */
export type BaselineState = { cylinders: number; days: number }

/** A day counts half after this many days. */
const HALF_LIFE_DAYS = 90
const DISCOUNT = 0.5 ** (1 / HALF_LIFE_DAYS)

/** Documented default for a site without history: half a cylinder over ten days, quickly overruled. */
export const WEAK_PRIOR: BaselineState = { cylinders: 0.5, days: 10 }

/**
 * Learns a daily rate from counts: A <- dA + x, B <- dB + 1, d = 0.5^(1/90).
 *
 * @param dailyCounts cylinders a day beyond planned work, oldest first
 * @param prior state to start from
 * @returns state after the last day
 * @throws {CalcError} OUT_OF_RANGE for a negative count or an empty prior
 * @source discounted gamma-Poisson (Harvey & Fernandes 1989, from memory)
 */
export function learnBaseline(dailyCounts: readonly number[], prior: BaselineState): BaselineState {
  requireNumber('prior.cylinders', prior.cylinders, { above: 0 })
  requireNumber('prior.days', prior.days, { above: 0 })
  return dailyCounts.reduce((state, count) => {
    requireNumber('dailyCounts', count, { min: 0 })
    return { cylinders: DISCOUNT * state.cylinders + count, days: DISCOUNT * state.days + 1 }
  }, prior)
}

/**
 * Mean and variance of baseline demand over a number of days: negative binomial, r = A, p = B/(B + H).
 *
 * @returns moments in cylinders
 */
export function baselineDemand(
  state: BaselineState,
  days: number,
): { mean: number; variance: number } {
  const mean = (state.cylinders / state.days) * days
  return { mean, variance: mean * (1 + days / state.days) }
}
