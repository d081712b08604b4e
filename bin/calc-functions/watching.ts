import { z } from 'zod'
import { cusumChart, ewmaChart, lossThreshold } from '../../lib/calc/control-chart'
import {
  cusumRunLength,
  decisionInterval,
  ewmaRunLength,
  limitWidth,
  twoSidedCusumRunLength,
} from '../../lib/calc/control-chart-run-length'
import {
  crostonForecasts,
  crostonState,
  smoothLevels,
  tsbForecasts,
} from '../../lib/calc/intermittent'
import { type CalcFunctions, calcFunction } from './calc-function'

const number = z.number()
const values = z.array(number).max(100_000)

const weight = number.gt(0).max(1)
const start = z.strictObject({ size: number.min(0), chance: number.min(0).max(1) })
const demand = z.array(number.min(0)).min(1).max(100_000)

export const WATCHING_FUNCTIONS: CalcFunctions = {
  cusum: calcFunction(
    'Cumulative sums of standardised differences, and where they first say that something changed',
    z.strictObject({ values, k: number, h: number }),
    ({ values, ...plan }) => ({ ok: true, ...cusumChart(values, plan) }),
  ),
  'cusum-plan': calcFunction(
    'Decision interval for a mean number of values between false alarms',
    z.strictObject({ k: number, runLength: number }),
    (plan) => ({ ok: true, h: decisionInterval(plan) }),
  ),
  'cusum-run-length': calcFunction(
    'Mean number of values until cumulative sums are out, one-sided and two-sided',
    z.strictObject({ k: number, h: number, shift: number }),
    (plan) => ({
      ok: true,
      oneSided: cusumRunLength(plan),
      twoSided: twoSidedCusumRunLength(plan),
    }),
  ),
  ewma: calcFunction(
    'Moving average of values with its limits',
    z.strictObject({ values, target: number, sd: number, lambda: number, width: number }),
    (chart) => ({ ok: true, points: ewmaChart(chart) }),
  ),
  'ewma-plan': calcFunction(
    'Width of limits for a mean number of values between false alarms',
    z.strictObject({ lambda: number, runLength: number }),
    (plan) => ({ ok: true, width: limitWidth(plan) }),
  ),
  'ewma-run-length': calcFunction(
    'Mean number of values until a moving average is out',
    z.strictObject({ lambda: number, width: number, shift: number }),
    (plan) => ({ ok: true, runLength: ewmaRunLength(plan) }),
  ),
  'loss-threshold': calcFunction(
    'Loss above which to look: a share of what went through and a fixed amount',
    z.strictObject({ throughput: number, share: number, fixed: number }),
    ({ throughput, ...limit }) => ({ ok: true, threshold: lossThreshold(throughput, limit) }),
  ),
  'demand-smoothed': calcFunction(
    'Level of demand a period by exponential smoothing, period by period',
    z.strictObject({ demand, alpha: weight }),
    ({ demand, alpha }) => ({ ok: true, levels: smoothLevels(demand, alpha) }),
  ),
  'demand-croston': calcFunction(
    'Sparse demand a period by Croston and its two corrections; null before any demand',
    z.strictObject({ demand, size: weight, interval: weight }),
    ({ demand, size, interval }) => {
      const state = crostonState(demand, size, interval)
      return { ok: true, state, forecasts: state && crostonForecasts(state, interval) }
    },
  ),
  'demand-tsb': calcFunction(
    'Sparse demand a period by TSB, which decays when demand stops',
    z.strictObject({ demand, size: weight, chance: weight, start }),
    ({ demand, start, ...weights }) => ({
      ok: true,
      forecasts: tsbForecasts(demand, weights, start),
    }),
  ),
}
