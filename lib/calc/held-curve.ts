import type { Point } from './interpolate'

/** Straight lines between points, the ends held. */
export type HeldCurve = { x: Float64Array; y: Float64Array }

/** Points as arrays, for look-ups without objects. X rises. */
export function heldCurve(points: readonly Point[]): HeldCurve {
  return {
    x: Float64Array.from(points, (point) => point[0]),
    y: Float64Array.from(points, (point) => point[1]),
  }
}

/** Value of the straight line at x; the first or last value outside. */
export function valueOn({ x, y }: HeldCurve, at: number): number {
  const last = x.length - 1
  if (at <= (x[0] as number)) return y[0] as number
  if (at >= (x[last] as number)) return y[last] as number
  let right = 1
  while ((x[right] as number) < at) right += 1
  const x0 = x[right - 1] as number
  const y0 = y[right - 1] as number
  return y0 + (((y[right] as number) - y0) * (at - x0)) / ((x[right] as number) - x0)
}
