import { balance } from './balance'
import { requireNumber } from './errors'

export type Shares = {
  /** What each takes of the total, and its variance after. */
  parts: { value: number; variance: number }[]
  /** The total that they add up to: moved towards their sum where it is itself uncertain. */
  total: { value: number; variance: number }
}

/**
 * One consumption shared by several jobs, by what each was expected to take and how sure that was.
 *
 *     x_j = p_j + v_j (D − Σ p) / (Σ v + v_D)
 *
 * @param expected of each job, variance >= 0
 * @param total what left all their cylinders together, variance 0 where it is exact
 * @returns parts that add up to the total after; one that would turn negative takes nothing and the rest is shared anew
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE
 * @source one balance by least squares, `balance`
 */
export function allocate(
  expected: readonly { value: number; variance: number }[],
  total: { value: number; variance: number },
): Shares {
  const { parts, total: after } = balance({ parts: expected, total })
  return { parts, total: after }
}

/**
 * Parts in whole units that still add up: the largest remainders are rounded up.
 *
 * @param parts finite, >= 0
 * @param unit above nought
 * @returns multiples of the unit whose sum is the rounded sum of the parts
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE
 * @source largest remainder (Hamilton), from memory
 */
export function roundTogether(parts: readonly number[], unit: number): number[] {
  requireNumber('unit', unit, { above: 0 })
  for (const [i, part] of parts.entries()) requireNumber(`parts.${i}`, part, { min: 0 })
  const counts = parts.map((part) => Math.floor(part / unit))
  const wanted = Math.round(parts.reduce((sum, part) => sum + part, 0) / unit)
  const missing = wanted - counts.reduce((sum, count) => sum + count, 0)
  const byRemainder = parts
    .map((part, i) => ({ i, rest: part / unit - (counts[i] as number) }))
    .sort((a, b) => b.rest - a.rest || a.i - b.i)
  const raised = new Set(byRemainder.slice(0, missing).map((one) => one.i))
  return counts.map((count, i) => (count + (raised.has(i) ? 1 : 0)) * unit)
}
