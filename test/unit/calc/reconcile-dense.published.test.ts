import { inv, type Matrix as MathMatrix, matrix, multiply, subtract, transpose } from 'mathjs'
import { Matrix, solve as solveMatrix } from 'ml-matrix'
import { describe, expect, test } from 'vitest'
import { type DenseInput, reconcileDense } from '@/lib/calc/reconcile-dense'
import { balanceVector } from './balance-vector'

type Inputs = { A: number[][]; y: number[]; variance: number[] }
type Expected = {
  reconciled: number[]
  reconciledAsPrinted?: number[]
  globalStatistic: number
  dof: number
  residuals?: number[]
  sd?: number[]
  S?: number[][]
  lambda_?: number[]
}

const CASES: [string, number][] = [
  ['dr-nj-bypass', 0.005],
  ['dr-nj-bypass-bias4', 1e-4],
  ['dr-bench-P12', 1e-4],
  ['dr-bench-P02', 1e-4],
  ['dr-bench-P05', 1e-4],
  ['dr-bench-P13', 1e-4],
  ['dr-chain-2cyl-3job', 1e-6],
]

const inputOf = (id: string): DenseInput => {
  const { inputs } = balanceVector<Inputs, Expected>(id)
  return { balances: inputs.A, readings: inputs.y, covariance: inputs.variance }
}

function expectNear(values: ArrayLike<number>, wanted: readonly number[], tolerance: number) {
  expect(values).toHaveLength(wanted.length)
  for (const [i, value] of wanted.entries())
    expect(Math.abs((values[i] ?? Number.NaN) - value)).toBeLessThanOrEqual(tolerance)
}

describe.each(CASES)('%s', (id, tolerance) => {
  const { expected } = balanceVector<Inputs, Expected>(id)
  const solved = reconcileDense(inputOf(id))

  test('meets the published reconciled readings and statistic', () => {
    expectNear(solved.reconciled, expected.reconciled, tolerance)
    if (expected.reconciledAsPrinted)
      expectNear(solved.reconciled, expected.reconciledAsPrinted, 0.0015)
    expect(Math.abs(solved.statistic - expected.globalStatistic)).toBeLessThanOrEqual(0.001)
    expect(solved.degreesOfFreedom).toBe(expected.dof)
    if (expected.residuals) expectNear(solved.system.residuals, expected.residuals, 1e-9)
    if (expected.lambda_) expectNear(solved.system.multipliers, expected.lambda_, 1e-6)
    if (expected.sd)
      expectNear(
        solved.covariance.map((row, i) => Math.sqrt(row[i] ?? 0)),
        expected.sd,
        1e-6,
      )
  })

  test('agrees with ml-matrix and mathjs to 1e-9', () => {
    const { A, y, variance } = balanceVector<Inputs, Expected>(id).inputs
    const a = new Matrix(A)
    const v = Matrix.diag(variance)
    const s = a.mmul(v).mmul(a.transpose())
    const moved = v.mmul(a.transpose()).mmul(solveMatrix(s, a.mmul(Matrix.columnVector(y))))
    expectNear(
      solved.reconciled,
      y.map((value, i) => value - moved.get(i, 0)),
      1e-9,
    )
    const [ma, my] = [matrix(A), matrix(y)]
    const mv = matrix(variance.map((value, i) => variance.map((_, j) => (i === j ? value : 0))))
    const inverse = inv(multiply(multiply(ma, mv), transpose(ma)) as MathMatrix) as MathMatrix
    const lambda = multiply(inverse, multiply(ma, my)) as MathMatrix
    const x = subtract(my, multiply(multiply(mv, transpose(ma)), lambda)) as MathMatrix
    expectNear(solved.reconciled, x.toArray() as number[], 1e-9)
    const after = subtract(
      mv,
      multiply(
        multiply(multiply(multiply(mv, transpose(ma)) as MathMatrix, inverse) as MathMatrix, ma),
        mv,
      ),
    ) as MathMatrix
    for (const [i, row] of (after.toArray() as number[][]).entries())
      expectNear(solved.covariance[i] ?? [], row, 1e-9)
  })

  test('every balance closes to 1e-9 and no variance grows', () => {
    const { balances, covariance } = inputOf(id)
    for (const row of balances)
      expect(
        Math.abs(row.reduce((sum, a, i) => sum + a * (solved.reconciled[i] ?? 0), 0)),
      ).toBeLessThan(1e-9)
    for (const [i, row] of solved.covariance.entries())
      expect(row[i]).toBeLessThanOrEqual(covariance[i] as number)
  })
})

describe.each(['dr-vdi2048-a', 'dr-vdi2048-b'])('%s, readings that err together', (id) => {
  const { inputs, expected } = balanceVector<
    {
      A: number[][]
      y: number[]
      halfWidth95: number[]
      coverageFactor: number
      correlations: [number, number, number][]
    },
    {
      reconciled: number[]
      reconciledHalfWidth: number[]
      reconciledPrintedVDI2048?: number[]
      reconciledHalfWidthPrintedVDI2048?: number[]
      globalStatistic: number
      contradictions: number[]
    }
  >(id)
  const u = inputs.halfWidth95.map((half) => half / inputs.coverageFactor)
  const covariance = u.map((one, i) => u.map((_, j) => (i === j ? one * one : 0)))
  for (const [i, j, r] of inputs.correlations) {
    const shared = r * (u[i] ?? 0) * (u[j] ?? 0)
    covariance[i]![j] = shared
    covariance[j]![i] = shared
  }
  const solved = reconcileDense({ balances: inputs.A, readings: inputs.y, covariance })
  const half = solved.covariance.map((row, i) => inputs.coverageFactor * Math.sqrt(row[i] ?? 0))

  test('meets the guideline', () => {
    expectNear(solved.reconciled, expected.reconciled, 5e-4)
    expectNear(half, expected.reconciledHalfWidth, 6e-4)
    expect(solved.statistic).toBeCloseTo(expected.globalStatistic, 5)
    expectNear(solved.system.residuals, expected.contradictions, 1e-9)
  })

  test('meets the printed figures of the second pass', () => {
    if (id === 'dr-vdi2048-a') {
      // Printed for the second pass alone: the first fails its global test at 7.81.
      expect(expected.reconciledPrintedVDI2048).toBeUndefined()
      expect(solved.statistic).toBeGreaterThan(7.814728)
      return
    }
    expectNear(solved.reconciled, expected.reconciledPrintedVDI2048 ?? [], 6e-4)
    expectNear(half, expected.reconciledHalfWidthPrintedVDI2048 ?? [], 6e-4)
    expect(solved.statistic).toBeLessThan(7.814728)
  })
})

test('balances may add up to something else than nought', () => {
  const solved = reconcileDense({
    balances: [[1, 1]],
    readings: [4, 5],
    covariance: [1, 3],
    constants: [10],
  })
  expectNear(solved.reconciled, [4.25, 5.75], 1e-12)
})

test.each([
  [
    'a balance twice',
    {
      balances: [
        [1, -1],
        [2, -2],
      ],
      readings: [1, 1],
      covariance: [1, 1],
    },
  ],
  ['rows of another length', { balances: [[1]], readings: [1, 1], covariance: [1, 1] }],
  ['a negative variance', { balances: [[1, -1]], readings: [1, 1], covariance: [1, -1] }],
  [
    'a reading that is no number',
    { balances: [[1, -1]], readings: [1, Number.NaN], covariance: [1, 1] },
  ],
])('%s is an error', (_what, input) => {
  expect(() => reconcileDense(input)).toThrow(/OUT_OF_RANGE|NOT_FINITE/)
})
