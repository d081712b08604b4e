import { requireNumber } from './errors'

export type BalanceInput = {
  parts: readonly { value: number; variance: number }[]
  total: { value: number; variance: number }
}

export type Balanced = {
  parts: { value: number; variance: number }[]
  total: { value: number; variance: number }
  /** Chi-square with one degree of freedom when nothing is grossly wrong. */
  statistic: number
}

/**
 * One balance: parts moved by least squares until they make up an independent total.
 *
 *     r = Σ y − T    S = Σ v + R    x_i = y_i − v_i r / S    t = T + R r / S
 *
 * @param input parts and total with their variances (>= 0)
 * @returns moved parts and total with their variances after, and r²/S of the balance as it came
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE
 * @remarks A part that would turn negative becomes zero and leaves the balance, which is then done again.
 *   With no variance anywhere nothing moves and the statistic is 0.
 * @source closed form of least-squares reconciliation (Narasimhan & Jordache), one balance
 */
export function balance(input: BalanceInput): Balanced {
  for (const [i, part] of input.parts.entries()) {
    requireNumber(`parts.${i}.value`, part.value)
    requireNumber(`parts.${i}.variance`, part.variance, { min: 0 })
  }
  requireNumber('total.value', input.total.value)
  requireNumber('total.variance', input.total.variance, { min: 0 })
  const all = residual(input)
  const solved = solve(input, new Set())
  return { ...solved, statistic: all.variance > 0 ? all.value ** 2 / all.variance : 0 }
}

function residual(input: BalanceInput, zeroed: ReadonlySet<number> = new Set()) {
  const kept = input.parts.filter((_, i) => !zeroed.has(i))
  return {
    value: kept.reduce((sum, part) => sum + part.value, 0) - input.total.value,
    variance: kept.reduce((sum, part) => sum + part.variance, 0) + input.total.variance,
  }
}

function solve(input: BalanceInput, zeroed: ReadonlySet<number>): Omit<Balanced, 'statistic'> {
  const { value: r, variance: s } = residual(input, zeroed)
  const move = s > 0 ? r / s : 0
  const shrink = (variance: number) => (s > 0 ? variance - variance ** 2 / s : variance)
  const parts = input.parts.map((part, i) =>
    zeroed.has(i)
      ? { value: 0, variance: part.variance }
      : { value: part.value - part.variance * move, variance: shrink(part.variance) },
  )
  const negative = parts.flatMap((part, i) => (part.value < 0 && !zeroed.has(i) ? [i] : []))
  if (negative.length > 0) return solve(input, new Set([...zeroed, ...negative]))
  const { value, variance } = input.total
  return { parts, total: { value: value + variance * move, variance: shrink(variance) } }
}
