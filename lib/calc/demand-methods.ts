import type { DemandSums } from './demand-class'

/** Ways to say what a period will take, by the names that their authors gave them; `rate` is this library's own. */
export const DEMAND_METHODS = ['zero', 'mean', 'ses', 'croston', 'sba', 'tsb', 'rate'] as const
export type DemandMethod = (typeof DEMAND_METHODS)[number]

/** Weights of the newest value: fixed, so that nobody tunes them to what is being judged. */
const LEVEL_WEIGHT = 0.1
const SIZE_WEIGHT = 0.1
const INTERVAL_WEIGHT = 0.1
const CHANCE_WEIGHT = 0.05
/** Periods until one counts half; a day's rate and a month's are learned from as many periods. */
const HALF_LIFE_PERIODS = 90
const DISCOUNT = 0.5 ** (1 / HALF_LIFE_PERIODS)
/** Prior of the rate: half a unit over ten periods, quickly overruled. */
const PRIOR = { total: 0.5, periods: 10 }

/** What all methods hold after the periods seen. Filled in place: it is refilled a hundred thousand times. */
export type DemandState = DemandSums & {
  /** Sum of squares over all periods, and level of simple smoothing. */
  level: number
  size: number
  interval: number
  since: number
  chance: number
  tsbSize: number
  rateTotal: number
  ratePeriods: number
}

/** A state that has seen nothing. */
export function emptyDemand(): DemandState {
  return {
    periods: 0,
    nonZero: 0,
    total: 0,
    totalSquares: 0,
    level: 0,
    size: 0,
    interval: 0,
    since: 0,
    chance: 0,
    tsbSize: 0,
    rateTotal: PRIOR.total,
    ratePeriods: PRIOR.periods,
  }
}

/**
 * Learns one more period, in O(1).
 *
 * Starts: smoothing at the first value; Croston at the first demand and its interval; TSB at the first
 * demand, its chance as the share of periods with demand until then.
 *
 * @param state changed in place
 * @param value demand of the period, not below nought
 */
export function learnDemand(state: DemandState, value: number): void {
  state.periods += 1
  state.since += 1
  state.level = state.periods === 1 ? value : state.level + LEVEL_WEIGHT * (value - state.level)
  state.rateTotal = DISCOUNT * state.rateTotal + value
  state.ratePeriods = DISCOUNT * state.ratePeriods + 1
  if (value > 0) {
    if (state.nonZero === 0) {
      state.size = value
      state.interval = state.since
      state.tsbSize = value
      state.chance = 1 / state.since
    } else {
      state.size += SIZE_WEIGHT * (value - state.size)
      state.interval += INTERVAL_WEIGHT * (state.since - state.interval)
      state.tsbSize += SIZE_WEIGHT * (value - state.tsbSize)
      state.chance += CHANCE_WEIGHT * (1 - state.chance)
    }
    state.nonZero += 1
    state.total += value
    state.totalSquares += value * value
    state.since = 0
  } else if (state.nonZero > 0) state.chance -= CHANCE_WEIGHT * state.chance
}

/**
 * Demand of a coming period by one method.
 *
 * @returns units per period; nought while nothing was used, but for the rate, which starts at its prior
 */
export function demandMean(state: DemandState, method: DemandMethod): number {
  const croston = state.nonZero > 0 ? state.size / state.interval : 0
  switch (method) {
    case 'zero':
      return 0
    case 'mean':
      return state.periods > 0 ? state.total / state.periods : 0
    case 'ses':
      return state.level
    case 'croston':
      return croston
    case 'sba':
      return croston * (1 - INTERVAL_WEIGHT / 2)
    case 'tsb':
      return state.chance * state.tsbSize
    case 'rate':
      return state.rateTotal / state.ratePeriods
  }
}

/** Sample variance of demand per period around its plain mean; nought before two periods. */
export function demandVariance(state: DemandState): number {
  if (state.periods < 2) return 0
  const spread = state.totalSquares - state.total ** 2 / state.periods
  return Math.max(0, spread / (state.periods - 1))
}
