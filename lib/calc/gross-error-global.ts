import { chiSquareAbove, quantile } from './distributions'
import { CalcError, requireNumber } from './errors'

/** How a chosen rate of false alarms is kept over many tests. */
export type Multiplicity = 'bonferroni' | 'benjamini-hochberg'

export type GlobalTest = {
  statistic: number
  degreesOfFreedom: number
  /** Chance of a statistic as large when nothing is wrong. */
  pValue: number
  /** The level that this p value was held against, and the statistic at it. */
  level: number
  critical: number
  isRejected: boolean
}

/** One false alarm in twenty looks. @source common practice, as in the vectors */
export const USUAL_FALSE_ALARM = 0.05

/**
 * The level below which p values count, so that the rate of false alarms holds over all of them.
 *
 * Bonferroni holds the chance of any false alarm; Benjamini-Hochberg the share of false ones among
 * those raised.
 *
 * @param pValues 0 to 1
 * @param input rate in (0, 1), and the control
 * @returns the level; p values at or below it are rejected
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE
 * @source Benjamini & Hochberg 1995, J. R. Statist. Soc. B 57:289
 */
export function rejectionLevel(
  pValues: readonly number[],
  { falseAlarm, control }: { falseAlarm: number; control: Multiplicity },
): number {
  requireNumber('falseAlarm', falseAlarm, { above: 0 })
  if (falseAlarm >= 1) throw new CalcError('OUT_OF_RANGE', 'falseAlarm', falseAlarm, { below: 1 })
  for (const [i, p] of pValues.entries()) requireNumber(`pValues.${i}`, p, { min: 0, max: 1 })
  const count = Math.max(1, pValues.length)
  if (control === 'bonferroni') return falseAlarm / count
  const rising = [...pValues].sort((a, b) => a - b)
  const last = rising.findLastIndex((p, k) => p <= ((k + 1) / count) * falseAlarm)
  return (Math.max(1, last + 1) / count) * falseAlarm
}

/**
 * Does each part of the record balance as a whole?
 *
 * @param parts statistic (>= 0) and degrees of freedom (>= 1) of each component, nothing shared between them
 * @param choice rate of false alarms over all parts, and how it is kept; Bonferroni at 0.05 where left out
 * @returns one test a part, in their order
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE
 * @source Narasimhan & Jordache 2000, global test; several components at once: Benjamini & Hochberg 1995
 */
export function globalTests(
  parts: readonly { statistic: number; degreesOfFreedom: number }[],
  choice: { falseAlarm?: number; control?: Multiplicity } = {},
): GlobalTest[] {
  const { falseAlarm = USUAL_FALSE_ALARM, control = 'bonferroni' } = choice
  const pValues = parts.map(({ statistic, degreesOfFreedom }) =>
    chiSquareAbove(statistic, degreesOfFreedom),
  )
  const level = rejectionLevel(pValues, { falseAlarm, control })
  return parts.map(({ statistic, degreesOfFreedom }, i) => ({
    statistic,
    degreesOfFreedom,
    pValue: pValues[i] as number,
    level,
    critical: quantile({ family: 'chi-square', dof: degreesOfFreedom }, 1 - level),
    isRejected: (pValues[i] as number) <= level,
  }))
}
