import { CalcError, requireNumber } from './errors'
import { at, dot } from './reconcile-arrays'
import { factorise, inverseOf, solveWith } from './reconcile-cholesky'
import type { ResidualSystem } from './reconcile-types'

export type DenseInput = {
  /** One row a balance, one number a reading; rows independent. */
  balances: readonly (readonly number[])[]
  readings: readonly number[]
  /** Variances, or the whole covariance where readings err together. */
  covariance: readonly number[] | readonly (readonly number[])[]
  /** What each balance adds up to; nought where left out. */
  constants?: readonly number[]
}

export type DenseBalanced = {
  reconciled: number[]
  /** Of the readings after, row by row. */
  covariance: number[][]
  /** Chi-square with as many degrees of freedom as balances when nothing is grossly wrong. */
  statistic: number
  degreesOfFreedom: number
  system: ResidualSystem
}

/**
 * Readings moved by least squares until every balance closes.
 *
 *     r = A y − c    S = A V Aᵀ    λ = S⁻¹ r    x = y − V Aᵀ λ    Vx = V − V Aᵀ S⁻¹ A V    g = rᵀ λ
 *
 * @param input balances (m × n), readings (n), covariance, symmetric and positive semidefinite
 * @returns readings after with their covariance, the global statistic, and the residuals for the tests
 * @throws {CalcError} NOT_FINITE; OUT_OF_RANGE where sizes differ, a variance is negative, or a balance
 *   follows from the others
 * @source closed form of least-squares reconciliation (Narasimhan & Jordache 2000; VDI 2048 part 1)
 */
export function reconcileDense(input: DenseInput): DenseBalanced {
  const { balances, readings } = input
  const covariance = check(input)
  const m = balances.length
  const av = balances.map((row) => covariance.map((column) => dot(row, column)))
  const s = Float64Array.from(av.flatMap((row) => balances.map((other) => dot(row, other))))
  const factor = factorise(s, m)
  if (!factor) throw new CalcError('OUT_OF_RANGE', 'balances', m, 'independent rows')
  const residuals = Float64Array.from(
    balances.map((row, i) => dot(row, readings) - (input.constants?.[i] ?? 0)),
  )
  const multipliers = solveWith(factor, residuals)
  const inverse = inverseOf(factor)
  const solve = (column: ArrayLike<number>) => solveWith(factor, column)
  const columns = readings.map((_, i) => solve(av.map((row) => at(row, i))))
  return {
    reconciled: readings.map(
      (value, i) => value - sumOver(av, (row, k) => at(row, i) * at(multipliers, k)),
    ),
    covariance: covariance.map((row, i) =>
      row.map((value, j) => value - sumOver(av, (one, k) => at(one, j) * at(columns[i] ?? [], k))),
    ),
    statistic: dot(residuals, multipliers),
    degreesOfFreedom: m,
    system: {
      size: m,
      residuals,
      multipliers,
      inverse: (i, j) => at(inverse, i * m + j),
      solve,
    },
  }
}

function sumOver(
  rows: readonly (readonly number[])[],
  term: (row: readonly number[], index: number) => number,
): number {
  return rows.reduce((sum, row, index) => sum + term(row, index), 0)
}

function check({ balances, readings, covariance, constants }: DenseInput): number[][] {
  const n = readings.length
  const same = (field: string, length: number, wanted: number) => {
    if (length !== wanted) throw new CalcError('OUT_OF_RANGE', field, length, { length: wanted })
  }
  same('covariance', covariance.length, n)
  if (constants) same('constants', constants.length, balances.length)
  for (const [i, row] of balances.entries()) {
    same(`balances.${i}`, row.length, n)
    for (const value of row) requireNumber(`balances.${i}`, value)
  }
  for (const [i, value] of readings.entries()) requireNumber(`readings.${i}`, value)
  return covariance.map((row, i) => {
    const values = typeof row === 'number' ? readings.map((_, j) => (i === j ? row : 0)) : [...row]
    same(`covariance.${i}`, values.length, n)
    for (const [j, value] of values.entries())
      requireNumber(`covariance.${i}.${j}`, value, i === j ? { min: 0 } : {})
    return values
  })
}
