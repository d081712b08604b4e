import { CalcError } from './errors'
import { dot } from './reconcile-arrays'
import { factorise, solveWith } from './reconcile-cholesky'
import { once } from './reconcile-solver'
import type { ComponentProblem, Solver } from './reconcile-types'

/** What one unit of each gauge's error does to each balance. */
export function gaugeColumns(problem: ComponentProblem): Float64Array[] {
  const { totals, opens, closes, gauges, gains, gaugeVariances } = problem
  const columns = Array.from(gaugeVariances, () => new Float64Array(totals.length))
  for (let i = 0; i < gauges.length; i += 1) {
    const column = columns[gauges[i] as number]
    if (!column) continue
    if ((opens[i] as number) >= 0)
      column[opens[i] as number] = (column[opens[i] as number] as number) + (gains[i] as number)
    if ((closes[i] as number) >= 0)
      column[closes[i] as number] = (column[closes[i] as number] as number) + -(gains[i] as number)
  }
  return columns
}

/**
 * A solver that counts each gauge's error as an unknown of its own, with its prior variance.
 *
 *     S = S₀ + U T Uᵀ    W = S₀⁻¹ U    M = T⁻¹ + Uᵀ W    S⁻¹ = S₀⁻¹ − W M⁻¹ Wᵀ
 *
 * @param base solver without the shared errors
 * @param columns U, one column a gauge
 * @param gaugeVariances T, each above nought
 * @source Sherman, Morrison & Woodbury (from memory)
 */
export function withGauges(
  base: Solver,
  columns: readonly Float64Array[],
  gaugeVariances: ArrayLike<number>,
): Solver {
  if (columns.length === 0) return base
  const count = columns.length
  const solved = columns.map((column) => base.solve(column))
  const m = new Float64Array(count * count)
  for (let g = 0; g < count; g += 1) {
    for (let h = 0; h < count; h += 1)
      m[g * count + h] =
        dot(columns[g] ?? [], solved[h] ?? []) + (g === h ? 1 / (gaugeVariances[g] as number) : 0)
  }
  const factor = factorise(m, count)
  if (!factor) throw new CalcError('OUT_OF_RANGE', 'gaugeVariances', 0, { above: 0 })
  const rowsOf = (j: number) => Float64Array.from(solved, (column) => column[j] as number)
  const spread = once(() =>
    Array.from({ length: columns[0]?.length ?? 0 }, (_, j) => solveWith(factor, rowsOf(j))),
  )
  return {
    method: base.method,
    solve: (column) => {
      const x = base.solve(column)
      const shared = solveWith(
        factor,
        columns.map((one) => dot(one, x)),
      )
      for (const [g, one] of solved.entries())
        for (let j = 0; j < x.length; j += 1)
          x[j] = (x[j] as number) + -(shared[g] as number) * (one[j] as number)
      return x
    },
    inverse: (row, column) => base.inverse(row, column) - dot(rowsOf(row), spread()[column] ?? []),
  }
}
