import type { PastWindow } from './demand-choice'
import { classOf } from './demand-class'
import {
  DEMAND_METHODS,
  demandMean,
  demandVariance,
  emptyDemand,
  learnDemand,
} from './demand-methods'

/**
 * What was used, period by period, and what had been planned for those periods. Forecasts learn from what
 * nobody planned; they are judged by all that came.
 */
export type UseHistory = Readonly<{
  unplanned: readonly number[]
  planned: readonly number[]
  came: readonly number[]
}>

/** Squared spread of what was planned around what it takes: that of crews and of single tasks together. */
const PLANNED_CV2 = 0.15 ** 2 + 0.02

/** A history in which nothing was planned. */
export const unplannedOnly = (demand: readonly number[]): UseHistory => ({
  unplanned: demand,
  planned: [],
  came: demand,
})

const sumOf = (values: readonly number[], from: number, count: number) => {
  let sum = 0
  for (let at = from; at < from + count; at += 1) sum += values[at] ?? 0
  return sum
}

/**
 * Every window of one series, by its origin: its forecast by each method from what was known before, with what was
 * planned in it, and what came.
 *
 * @param history lists equally long; `planned` may be empty
 * @param horizon periods of a window
 * @returns a window for each period that has `horizon` periods from it on
 */
export function pastWindows(history: UseHistory, horizon: number): PastWindow[] {
  const { unplanned, planned, came } = history
  const state = emptyDemand()
  return unplanned.slice(0, Math.max(0, unplanned.length - horizon + 1)).map((_, origin) => {
    if (origin > 0) learnDemand(state, unplanned[origin - 1] ?? 0)
    const work = sumOf(planned, origin, horizon)
    return {
      demandClass: classOf(state).demandClass,
      means: DEMAND_METHODS.map((method) => work + horizon * demandMean(state, method)),
      variance: horizon * demandVariance(state) + PLANNED_CV2 * work ** 2,
      total: sumOf(came, origin, horizon),
    }
  })
}
