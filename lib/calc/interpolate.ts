import { CalcError, requireNumber } from './errors'
import { heldCurve, valueOn } from './held-curve'

export type Point = readonly [x: number, y: number]

/**
 * Value of the smooth curve through the points that never overshoots: rising data stay rising.
 *
 * @param points at least two, x strictly rising
 * @param x scalar inside the first and last x
 * @returns scalar between the two neighbouring y
 * @throws {CalcError} OUT_OF_RANGE outside the points (no extrapolation); WRONG_ORDER when x does not rise
 * @source Fritsch & Carlson, SIAM J. Numer. Anal. 17 (1980) 238, with the weighted harmonic mean of
 *   Fritsch & Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300.
 * @example interpolateMonotone([[0, 0], [1, 1], [2, 1]], 1.5) // 1: flat stays flat
 */
export function interpolateMonotone(points: readonly Point[], x: number): number {
  const first = points[0]
  const last = points.at(-1)
  if (!first || !last || points.length < 2)
    throw new CalcError('OUT_OF_RANGE', 'points', points.length, { min: 2 })
  requireNumber('x', x, { min: first[0], max: last[0] })
  for (const [i, point] of points.entries()) {
    const before = points[i - 1]
    if (before && point[0] <= before[0])
      throw new CalcError('WRONG_ORDER', 'points', point[0], before[0])
  }
  const right = Math.max(
    1,
    points.findIndex((point) => point[0] >= x),
  )
  const [x0, y0] = points[right - 1] ?? first
  const [x1, y1] = points[right] ?? last
  return hermite({ x0, y0, x1, y1, d0: slopeAt(points, right - 1), d1: slopeAt(points, right) }, x)
}

type Piece = { x0: number; y0: number; x1: number; y1: number; d0: number; d1: number }

function hermite({ x0, y0, x1, y1, d0, d1 }: Piece, x: number): number {
  const width = x1 - x0
  const t = (x - x0) / width
  const s = 1 - t
  const value =
    y0 * (1 + 2 * t) * s * s + y1 * t * t * (3 - 2 * t) + width * t * s * (d0 * s - d1 * t)
  // Rounding may step over an end by a last digit.
  return Math.min(Math.max(y0, y1), Math.max(Math.min(y0, y1), value))
}

function slopeAt(points: readonly Point[], i: number): number {
  const before = secant(points, i - 1)
  const after = secant(points, i)
  if (before === null || after === null) return endSlope(points, i)
  if (before.slope * after.slope <= 0) return 0
  const w1 = 2 * after.width + before.width
  const w2 = after.width + 2 * before.width
  return (w1 + w2) / (w1 / before.slope + w2 / after.slope)
}

/** Three-point end slope, limited so that the end stays monotone. */
function endSlope(points: readonly Point[], i: number): number {
  const near = secant(points, i === 0 ? 0 : i - 1)
  const next = secant(points, i === 0 ? 1 : i - 2)
  if (near === null) return 0
  if (next === null) return near.slope
  const slope =
    ((2 * near.width + next.width) * near.slope - near.width * next.slope) /
    (near.width + next.width)
  if (slope * near.slope <= 0) return 0
  if (near.slope * next.slope <= 0 && Math.abs(slope) > 3 * Math.abs(near.slope))
    return 3 * near.slope
  return slope
}

function secant(points: readonly Point[], i: number): { slope: number; width: number } | null {
  const left = points[i]
  const right = points[i + 1]
  if (!left || !right) return null
  const width = right[0] - left[0]
  return { slope: (right[1] - left[1]) / width, width }
}

/**
 * Slopes of the same curve at every point: what a table of cubics is made of, once.
 *
 * @param points at least two, x strictly rising
 * @returns one slope a point
 * @throws {CalcError} OUT_OF_RANGE or WRONG_ORDER, as `interpolateMonotone`
 */
export function monotoneSlopes(points: readonly Point[]): number[] {
  const first = points[0]
  if (!first || points.length < 2)
    throw new CalcError('OUT_OF_RANGE', 'points', points.length, { min: 2 })
  interpolateMonotone(points, first[0])
  return points.map((_point, i) => slopeAt(points, i))
}

/** Straight line between neighbours, ends held: for coarse judgements that must not overshoot or refuse. */
export function interpolateHeld(points: readonly Point[], x: number): number {
  if (points.length === 0) throw new CalcError('OUT_OF_RANGE', 'points', 0, { min: 1 })
  return valueOn(heldCurve(points), x)
}
