/** Size and interval (or chance) that a smoother holds after the last period. */
export type CrostonState = { size: number; interval: number }

/**
 * Simple exponential smoothing: the level after each period.
 *
 * The first value sets the level; updating starts at the second (NIST e-Handbook 6.4.3.1 counts likewise).
 *
 * @param values any unit per period, oldest first; not empty
 * @param alpha weight of the newest value, 0 to 1
 * @returns levels, same unit and length; the last is the forecast of every coming period
 */
export function smoothLevels(values: readonly number[], alpha: number): number[] {
  const levels: number[] = []
  let level = values[0] ?? 0
  for (const value of values) {
    level += alpha * (value - level)
    levels.push(level)
  }
  return levels
}

/**
 * Croston's two smoothed quantities. Updated only when there is demand; first demand and first interval start it.
 *
 * @param demand per period, oldest first, not below zero
 * @param alphaSize weight of the newest size, 0 to 1
 * @param alphaInterval weight of the newest interval, 0 to 1
 * @returns null while there has been no demand
 */
export function crostonState(
  demand: readonly number[],
  alphaSize: number,
  alphaInterval: number,
): CrostonState | null {
  let state: CrostonState | null = null
  let since = 0
  for (const value of demand) {
    since++
    if (value <= 0) continue
    state = state
      ? {
          size: state.size + alphaSize * (value - state.size),
          interval: state.interval + alphaInterval * (since - state.interval),
        }
      : { size: value, interval: since }
    since = 0
  }
  return state
}

/**
 * Demand per period by Croston, Syntetos-Boylan (x (1 − β/2)) and Shale-Boylan-Johnston (x (1 − β/(2 − β))).
 *
 * @param state from `crostonState`
 * @param alphaInterval the weight that was used for the intervals
 * @returns demand per period, unit of the size
 */
export function crostonForecasts(state: CrostonState, alphaInterval: number) {
  const croston = state.size / state.interval
  return {
    croston,
    sba: croston * (1 - alphaInterval / 2),
    sbj: croston * (1 - alphaInterval / (2 - alphaInterval)),
  }
}

/**
 * Teunter-Syntetos-Babai: the chance of demand is updated every period, so it decays when demand stops.
 *
 * @param demand per period, oldest first, not below zero
 * @param weights `size` and `chance`, each 0 to 1
 * @param start size and chance before the second period; the first period only sets the state
 * @returns demand per period after each period from the first on
 */
export function tsbForecasts(
  demand: readonly number[],
  weights: { size: number; chance: number },
  start: { size: number; chance: number },
): number[] {
  let { size, chance } = start
  return demand.map((value, period) => {
    if (period > 0) {
      chance += weights.chance * ((value > 0 ? 1 : 0) - chance)
      if (value > 0) size += weights.size * (value - size)
    }
    return size * chance
  })
}
