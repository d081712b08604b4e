/** So many measurements are kept: some minutes of them, in which no device's clock drifts by much. */
const KEPT = 8
/** A measurement that is so much lower is no slow answer: the device's clock, or the server's, was set. */
const SET_ANEW_MS = 5_000

/**
 * What the device's clock is behind the server's, by the best of the last measurements. Each is the server's time less
 * the device's when it arrived, so each is too low by what it was under way: the highest is the nearest.
 */
export function offsetOf(measuredMs: readonly number[]): number | null {
  return measuredMs.length === 0 ? null : Math.max(...measuredMs)
}

/** The measurements to go on with after one more. */
export function withMeasured(measuredMs: readonly number[], newestMs: number): readonly number[] {
  const best = offsetOf(measuredMs)
  if (best !== null && best - newestMs > SET_ANEW_MS) return [newestMs]
  return [...measuredMs, newestMs].slice(-KEPT)
}
