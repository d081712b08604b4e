import { CalcError, requireNumber } from './errors'

/** What was forecast and what came, period by period. */
export type ForecastPair = Readonly<{ forecast: number; actual: number }>

const mean = (values: readonly number[]) =>
  values.reduce((sum, value) => sum + value, 0) / values.length

function scaleOf(
  history: readonly number[],
  season: number,
  of: (difference: number) => number,
): number | null {
  const differences = history.slice(season).map((value, i) => of(value - (history[i] ?? 0)))
  if (differences.length === 0) return null
  const scale = mean(differences)
  return scale > 0 ? scale : null
}

function someOf(pairs: readonly ForecastPair[]): void {
  if (pairs.length === 0) throw new CalcError('OUT_OF_RANGE', 'pairs', 0, { min: 1 })
}

/**
 * Mean absolute error beside that of repeating the value one season before, in the history.
 *
 * @param pairs forecast and actual, at least one
 * @param history what was known when it was forecast, oldest first
 * @param season periods of a season; 1 for none
 * @returns scalar; null where the history never changed
 * @throws {CalcError} OUT_OF_RANGE where there is nothing to compare
 * @remarks On sparse demand a forecast of nought wins it: it chooses no method here.
 * @source Hyndman & Koehler 2006
 */
export function meanAbsoluteScaledError(
  pairs: readonly ForecastPair[],
  history: readonly number[],
  season = 1,
): number | null {
  someOf(pairs)
  const scale = scaleOf(history, season, Math.abs)
  return scale && mean(pairs.map(({ forecast, actual }) => Math.abs(actual - forecast))) / scale
}

/**
 * Root mean squared error beside that of repeating the last value.
 *
 * @param pairs, history as for `meanAbsoluteScaledError`
 * @returns scalar; null where the history never changed
 * @source M5 competition guide: √(mean e² / mean (difference in the history)²)
 */
export function rootMeanSquaredScaledError(
  pairs: readonly ForecastPair[],
  history: readonly number[],
  season = 1,
): number | null {
  someOf(pairs)
  const scale = scaleOf(history, season, (difference) => difference ** 2)
  return scale && Math.sqrt(mean(pairs.map((pair) => (pair.actual - pair.forecast) ** 2)) / scale)
}

/** Plain errors: root mean square, mean absolute, and mean absolute in per cent (null where a nought came). */
export function plainErrors(pairs: readonly ForecastPair[]) {
  someOf(pairs)
  const errors = pairs.map(({ forecast, actual }) => actual - forecast)
  const shares = pairs.map(({ forecast, actual }) => Math.abs((actual - forecast) / actual))
  return {
    rmse: Math.sqrt(mean(errors.map((error) => error ** 2))),
    mae: mean(errors.map(Math.abs)),
    mapePct: shares.every(Number.isFinite) ? 100 * mean(shares) : null,
  }
}

/**
 * Cost of a bound: each unit short costs the probability, each unit too many the rest.
 *
 * @param bound, actual in the same unit
 * @param probability that the bound was asked for, 0 to 1
 * @returns scalar >= 0; least in the mean for the true quantile
 * @source Koenker & Bassett 1978
 */
export function pinballLoss(bound: number, actual: number, probability: number): number {
  return actual > bound ? probability * (actual - bound) : (1 - probability) * (bound - actual)
}

/**
 * Total forecast beside total actual.
 *
 * @param pairs at least one
 * @returns 1 where nothing is forecast too high or low in all; null where nothing came
 * @throws {CalcError} OUT_OF_RANGE where there is nothing to compare
 */
export function forecastBias(pairs: readonly ForecastPair[]): number | null {
  someOf(pairs)
  const actual = pairs.reduce((sum, pair) => sum + pair.actual, 0)
  return actual > 0 ? pairs.reduce((sum, pair) => sum + pair.forecast, 0) / actual : null
}

/** Two-sided 95 %. */
const Z95 = 1.959963984540054

/**
 * Share of bounds that held, with what chance alone would make of it.
 *
 * @param held whole number of bounds that held, of `count` >= 1
 * @returns share, and its 95 % interval
 * @throws {CalcError} OUT_OF_RANGE
 * @source Wilson score interval (NIST/SEMATECH e-Handbook 7.2.4.1)
 */
export function coverage({ held, count }: { held: number; count: number }): {
  share: number
  low: number
  high: number
} {
  requireNumber('count', count, { min: 1 })
  requireNumber('held', held, { min: 0, max: count })
  const share = held / count
  const z2 = Z95 ** 2 / count
  const middle = (share + z2 / 2) / (1 + z2)
  const half = (Z95 / (1 + z2)) * Math.sqrt((share * (1 - share)) / count + z2 / (4 * count))
  return { share, low: Math.max(0, middle - half), high: Math.min(1, middle + half) }
}
