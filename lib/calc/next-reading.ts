import { requireNumber } from './errors'
import type { JobAccount } from './job-account'

/** A reading that a number was made from, or the lack of one, and what one more would be worth. */
export type ReadingAtEnd = {
  id: string
  /** Weight with which it enters the number: 1 where an interval begins, −1 where it ends. */
  weight: number
  /** kg², as it came. */
  variance: number
  /** kg² of one more reading at the same moment. */
  furtherVariance: number
}

export type Narrowing = {
  id: string
  /** Standard uncertainty of the number after, kg. */
  standardUncertaintyKg: number
  /** Of the one before. */
  share: number
}

/**
 * What one more reading at each place would narrow a sum of readings to, the best first.
 *
 *     v' = 1 / (1/v + 1/w)    u'² = u² − a² (v − v')
 *
 * @param ends readings that the sum was made from, variances above nought
 * @param variance of the sum, kg², not below what its ends put in
 * @returns a narrowing an end, by what it leaves
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE
 * @source mean weighted by 1/variance; GUM 5.1.2 for the sum
 * @example narrowings([{ id: 'a', weight: -1, variance: 4, furtherVariance: 1e-9 }], 5) // share 0.447
 */
export function narrowings(ends: readonly ReadingAtEnd[], variance: number): Narrowing[] {
  requireNumber('variance', variance, { above: 0 })
  return ends
    .map(({ id, weight, variance: own, furtherVariance }, i) => {
      requireNumber(`ends.${i}.weight`, weight)
      requireNumber(`ends.${i}.variance`, own, { above: 0 })
      requireNumber(`ends.${i}.furtherVariance`, furtherVariance, { above: 0 })
      const together = 1 / (1 / own + 1 / furtherVariance)
      const after = Math.max(0, variance - weight * weight * (own - together))
      return { id, standardUncertaintyKg: Math.sqrt(after), share: Math.sqrt(after / variance) }
    })
    .sort((a, b) => a.share - b.share || a.id.localeCompare(b.id))
}

/**
 * What would be left of the doubt in a job's difference if its use were known exactly: the part that is the
 * estimate's and its crew's, which no reading narrows.
 *
 * @param account of the job
 * @returns share of the doubt, 0 to 1; nought where nothing is in doubt
 * @source GUM 5.1.2
 */
export function shareLeftByReadings({ rest, usage }: Pick<JobAccount, 'rest' | 'usage'>): number {
  const all = rest.standardUncertainty ** 2
  if (all === 0) return 0
  return Math.sqrt(Math.max(0, all - usage.standardUncertainty ** 2) / all)
}
