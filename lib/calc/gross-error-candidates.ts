import type { Adjustment } from './gross-error-readings'
import { quadraticForm, type Signature, sparseDot } from './reconcile-form'
import type { ComponentProblem, ResidualSystem } from './reconcile-types'

/** What one kilogram too much in a reading adds to the balances that it opens and closes. */
export function readingSignature(
  { opens, closes }: Pick<ComponentProblem, 'opens' | 'closes'>,
  reading: number,
): Signature {
  const [open, close] = [opens[reading] as number, closes[reading] as number]
  if (open === close) return []
  return [
    ...(open < 0 ? [] : [{ balance: open, effect: 1 }]),
    ...(close < 0 ? [] : [{ balance: close, effect: -1 }]),
  ]
}

/** What one kilogram that left without being counted adds: a leak, or work that nobody wrote down. */
export const lossSignature = (job: number): Signature => [{ balance: job, effect: 1 }]

/**
 * How far the balances move each reading and each total of a component, for `readingTests`.
 *
 * @param problem readings, totals and their variances
 * @param system its solved balances
 * @returns readings in their order, then totals; nothing moves where the inverse was not computed
 * @source x_i = y_i − v_i (λ_open − λ_close), its variance v_i² fᵀ S⁻¹ f, f the reading's signature
 */
export function adjustmentsOf(problem: ComponentProblem, system: ResidualSystem): Adjustment[] {
  const adjust = (signature: Signature, readingVariance: number): Adjustment => ({
    moved: readingVariance * sparseDot(signature, system.multipliers),
    movedVariance: readingVariance ** 2 * quadraticForm(system, signature),
    readingVariance,
  })
  return [
    ...Array.from(problem.variances, (variance, i) =>
      adjust(readingSignature(problem, i), variance),
    ),
    ...Array.from(problem.totalVariances, (variance, j) =>
      adjust([{ balance: j, effect: -1 }], variance),
    ),
  ]
}
