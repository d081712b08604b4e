import { CalcError } from './errors'

export type LeakTrendPoint = {
  /** Days from any one day. */
  day: number
  /** Fall of the hold test after what the temperature explains, and its standard uncertainty, kPa. */
  fallKpa: number
  uKpa: number
}

export type LeakTrend =
  | { verdict: 'tooFew' }
  | {
      verdict: 'rising' | 'steady' | 'falling'
      slopeKpaPerDay: number
      slopeUKpaPerDay: number
    }

const LEAST_POINTS = 3
/** Beyond twice its standard uncertainty a slope is no chance: about 19 in 20. */
const COVERAGE = 2

/**
 * Whether the hold tests of an outfit get worse while each still passes: a straight line by least
 * squares, each test weighted by the inverse of its variance.
 *
 * @param points at least three on two days or more, kPa and days; shorter lists are answered `tooFew`
 * @returns the slope (kPa a day) with its standard uncertainty from the tests' own
 * @throws {CalcError} OUT_OF_RANGE where an uncertainty is not finite and > 0
 * @source weighted least squares; the verdict is judgement, no source
 */
export function leakTrend({ points }: { points: readonly LeakTrendPoint[] }): LeakTrend {
  for (const { uKpa } of points)
    if (!Number.isFinite(uKpa) || uKpa <= 0) throw new CalcError('OUT_OF_RANGE', 'uKpa', uKpa)
  const total = points.reduce((sum, point) => sum + point.uKpa ** -2, 0)
  const mean = (of: (point: LeakTrendPoint) => number) =>
    points.reduce((sum, point) => sum + of(point) * point.uKpa ** -2, 0) / total
  const day = mean((point) => point.day)
  const fall = mean((point) => point.fallKpa)
  const spread = points.reduce((sum, point) => sum + ((point.day - day) / point.uKpa) ** 2, 0)
  if (points.length < LEAST_POINTS || !(spread > 0)) return { verdict: 'tooFew' }
  const slope =
    points.reduce(
      (sum, point) => sum + ((point.day - day) * (point.fallKpa - fall)) / point.uKpa ** 2,
      0,
    ) / spread
  const slopeU = 1 / Math.sqrt(spread)
  const isSeen = Math.abs(slope) > COVERAGE * slopeU
  return {
    verdict: isSeen ? (slope > 0 ? 'rising' : 'falling') : 'steady',
    slopeKpaPerDay: slope,
    slopeUKpaPerDay: slopeU,
  }
}
