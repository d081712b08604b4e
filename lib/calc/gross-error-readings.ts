import { quantile } from './distributions'
import { CalcError, requireNumber } from './errors'
import { USUAL_FALSE_ALARM } from './gross-error-global'

/** How far a reading was moved, and how far it should have been. */
export type Adjustment = {
  /** As it came less after. */
  moved: number
  /** Variance of that, nought where nothing checks the reading. */
  movedVariance: number
  /** The reading's own. */
  readingVariance: number
}

export type ReadingTest = {
  /** Moved over its standard deviation; nought where nothing checks the reading. */
  z: number
  /** The same with the floor of a tenth of the reading's variance under it. */
  flooredZ: number
  isRejected: boolean
}

/** Share of a reading's variance under which its adjustment is not judged finer. @source VDI 2048 part 1 */
const LEAST_SHARE = 1 / 10

/**
 * Which readings were moved further than chance would move any of them?
 *
 * A reading that is hardly checked by others is moved hardly at all and wildly in its own deviations;
 * the floor keeps it from being accused.
 *
 * @param adjustments variances >= 0, the reading's above nought
 * @param falseAlarm chance of accusing any reading when none is wrong, in (0, 1)
 * @returns one test a reading, and the value that the floored one is held against
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE
 * @source Mah & Tamhane 1982 with Šidák's level β = 1 − (1 − α)^(1/m); floor: VDI 2048 part 1, its printed
 *   local tests need it
 */
export function readingTests(
  adjustments: readonly Adjustment[],
  falseAlarm = USUAL_FALSE_ALARM,
): { critical: number; tests: ReadingTest[] } {
  requireNumber('falseAlarm', falseAlarm, { above: 0 })
  if (falseAlarm >= 1) throw new CalcError('OUT_OF_RANGE', 'falseAlarm', falseAlarm, { below: 1 })
  const level = -Math.expm1(Math.log1p(-falseAlarm) / Math.max(1, adjustments.length))
  const critical = quantile({ family: 'normal', mean: 0, sd: 1 }, 1 - level / 2)
  const tests = adjustments.map(({ moved, movedVariance, readingVariance }, i) => {
    requireNumber(`adjustments.${i}.moved`, moved)
    requireNumber(`adjustments.${i}.movedVariance`, movedVariance, { min: 0 })
    requireNumber(`adjustments.${i}.readingVariance`, readingVariance, { above: 0 })
    const z = movedVariance > 0 ? moved / Math.sqrt(movedVariance) : 0
    const flooredZ = moved / Math.sqrt(Math.max(movedVariance, readingVariance * LEAST_SHARE))
    return { z, flooredZ, isRejected: Math.abs(flooredZ) > critical }
  })
  return { critical, tests }
}
