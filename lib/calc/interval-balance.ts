import type { Interval90 } from './source'
import { lognormalInterval, normalInterval, quadrature } from './stats'

/** Gas that left one cylinder between two of its readings, on one outfit. */
export type UsedInterval = {
  outfitId: string | null
  fromMs: number
  toMs: number
  usageKg: number
  standardUncertaintyKg: number
}

/** Work that was logged, and the share of the job's estimate that its pieces are. */
export type LoggedShare = { outfitId: string | null; fromMs: number; toMs: number; share: number }

export type IntervalBalance = {
  /** Null where nothing was logged in the interval. */
  estimate: Interval90 | null
  usage: Interval90
  difference: Interval90
  /** Nought lies within nine in ten of the difference. */
  isWithin: boolean
}

const overlapMs = (a: { fromMs: number; toMs: number }, b: { fromMs: number; toMs: number }) =>
  Math.max(0, Math.min(a.toMs, b.toMs) - Math.max(a.fromMs, b.fromMs))

/** How much of a log falls into each interval: by time, on the same outfit where both name one. */
function partsOf(log: LoggedShare, intervals: readonly UsedInterval[]): number[] {
  const overlaps = intervals.map((interval) =>
    log.outfitId === null || interval.outfitId === null || log.outfitId === interval.outfitId
      ? overlapMs(log, interval)
      : 0,
  )
  const total = overlaps.reduce((sum, ms) => sum + ms, 0)
  return overlaps.map((ms) => (total > 0 ? (ms / total) * log.share : 0))
}

/**
 * Interval by interval: what the work logged in it should have taken beside what left the cylinder.
 *
 * A log's share of the estimate goes to the intervals of its outfit that it overlaps, by time; where
 * several cylinders hang on one outfit at once, each takes its part. The estimate's uncertainty goes
 * with the share: the tables err the same way on every cut.
 *
 * @param input estimate of the whole job (kg, mean >= 0), logs with their shares of it (>= 0), intervals
 * @returns one balance an interval, in the order given
 * @throws {CalcError} OUT_OF_RANGE for a negative estimate
 * @source definition of this library: difference by quadrature, 90 % as elsewhere
 */
export function balanceIntervals(input: {
  estimate: { meanKg: number; standardUncertaintyKg: number }
  logs: readonly LoggedShare[]
  intervals: readonly UsedInterval[]
}): IntervalBalance[] {
  const { estimate, logs, intervals } = input
  const parts = logs.map((log) => partsOf(log, intervals))
  return intervals.map((interval, index) => {
    const share = parts.reduce((sum, one) => sum + (one[index] ?? 0), 0)
    const mean = share * estimate.meanKg
    const u = share * estimate.standardUncertaintyKg
    const difference = normalInterval({
      mean: interval.usageKg - mean,
      standardUncertainty: quadrature([interval.standardUncertaintyKg, u]),
    })
    return {
      estimate: share > 0 ? lognormalInterval({ mean, standardUncertainty: u }) : null,
      usage: normalInterval({
        mean: interval.usageKg,
        standardUncertainty: interval.standardUncertaintyKg,
        min: 0,
      }),
      difference,
      isWithin: difference.low90 <= 0 && difference.high90 >= 0,
    }
  })
}
