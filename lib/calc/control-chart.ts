import { CalcError, requireNumber } from './errors'

/** Where a one-sided cumulative sum stands. It goes on from signal to signal until a person restarts it. */
export type CusumState = {
  /** Sum now, in standard deviations. */
  sum: number
  /** Values seen. */
  count: number
  /** The first value after the sum last stood at nought, counted from 0; null while it does. */
  onset: number | null
  isOut: boolean
}

export type CusumPlan = {
  /** Half the shift of interest, in standard deviations. */
  k: number
  /** Decision interval, in standard deviations. */
  h: number
}

/** The state before the first value; after a repair it starts at half the decision interval. */
export function startCusum(plan: CusumPlan, isAfterRepair = false): CusumState {
  checkPlan(plan)
  return {
    sum: isAfterRepair ? plan.h / 2 : 0,
    count: 0,
    onset: isAfterRepair ? 0 : null,
    isOut: false,
  }
}

/**
 * One value more: C = max(0, C + z − k), out above h.
 *
 * @param z standardised value; losses count upwards
 * @returns the next state; once out it stays marked as long as the sum is above h, and is never set back
 * @source NIST/SEMATECH e-Handbook 6.3.2.3; head start of h/2: Lucas & Crosier 1982
 */
export function stepCusum(plan: CusumPlan, state: CusumState, z: number): CusumState {
  requireNumber('z', z)
  const sum = Math.max(0, state.sum + z - plan.k)
  const onset = sum > 0 ? (state.onset ?? state.count) : null
  return { sum, count: state.count + 1, onset, isOut: sum > plan.h }
}

export type CusumChart = {
  points: CusumState[]
  /** Place of the first value at which the sum was out, and where that rise began. */
  firstSignal: { place: number; onset: number } | null
}

/**
 * The whole chart of a row of values.
 *
 * @param values standardised, oldest first
 * @throws {CalcError} NOT_FINITE; OUT_OF_RANGE for k or h not above nought
 */
export function cusumChart(values: readonly number[], plan: CusumPlan): CusumChart {
  let state = startCusum(plan)
  const points = values.map((z) => {
    state = stepCusum(plan, state, z)
    return state
  })
  const place = points.findIndex((point) => point.isOut)
  return { points, firstSignal: place < 0 ? null : { place, onset: points[place]?.onset ?? place } }
}

export type EwmaPoint = { average: number; low: number; high: number; isOut: boolean }

/**
 * Exponentially weighted moving average with limits that widen from the start.
 *
 *     E = λ z + (1 − λ) E    ± L σ √(λ/(2 − λ) (1 − (1 − λ)^2t))
 *
 * @param input values oldest first, target and standard deviation (> 0) in control, λ in (0, 1], L > 0
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE
 * @source NIST/SEMATECH e-Handbook 6.3.2.4
 */
export function ewmaChart(input: {
  values: readonly number[]
  target: number
  sd: number
  lambda: number
  width: number
}): EwmaPoint[] {
  const { values, target, sd, lambda, width } = input
  requireNumber('target', target)
  requireNumber('sd', sd, { above: 0 })
  requireNumber('lambda', lambda, { above: 0, max: 1 })
  requireNumber('width', width, { above: 0 })
  let average = target
  return values.map((value, t) => {
    average = lambda * requireNumber(`values.${t}`, value) + (1 - lambda) * average
    const half =
      width * sd * Math.sqrt((lambda / (2 - lambda)) * (1 - (1 - lambda) ** (2 * (t + 1))))
    const [low, high] = [target - half, target + half]
    return { average, low, high, isOut: average < low || average > high }
  })
}

/**
 * First sieve for a loss: above a share of what went through plus what the readings can't resolve.
 *
 * @param limit share of throughput (>= 0) and a fixed amount (>= 0), the user's own
 * @source form of WAC 173-360A-0620 for fuel tanks; its numbers do not carry over
 */
export function lossThreshold(throughput: number, limit: { share: number; fixed: number }): number {
  requireNumber('throughput', throughput, { min: 0 })
  return (
    requireNumber('share', limit.share, { min: 0 }) * throughput +
    requireNumber('fixed', limit.fixed, { min: 0 })
  )
}

function checkPlan({ k, h }: CusumPlan): void {
  if (!(k > 0)) throw new CalcError('OUT_OF_RANGE', 'k', k, { above: 0 })
  if (!(h > 0)) throw new CalcError('OUT_OF_RANGE', 'h', h, { above: 0 })
}
