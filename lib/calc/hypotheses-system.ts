import { requireNumber } from './errors'
import { type Expected, expectedOf } from './hypotheses-expected'
import { type Stretches, stretchesOf } from './hypotheses-stretches'
import type { Trail } from './hypotheses-types'
import { floats, integers } from './reconcile-arrays'
import { solveBlocks } from './reconcile-blocks'
import { residualsOf, transfersOf } from './reconcile-transfers'
import type { Balances, ResidualSystem } from './reconcile-types'

export type TrailSystem = Stretches & {
  /** What each stretch should have taken. */
  expected: Expected[]
  /** All components as one: a cause may speak of cylinders that never met. */
  system: ResidualSystem
}

/** The balances of a trail, solved. @throws {CalcError} as `stretchesOf` */
export function openTrail(trail: Trail): TrailSystem {
  const parted = stretchesOf(trail)
  const expected = expectedOf(parted, trail.readings)
  return { ...parted, expected, system: systemOf(trail, parted, expected) }
}

/** Stretches whose total is known have a row each; the others are not balanced. */
function rowsOf(expected: readonly Expected[]): { stretches: number[]; rowOf: Int32Array } {
  const stretches: number[] = []
  const rowOf = integers(expected.length, (stretch) => {
    const { kg, variance } = expected[stretch] as Expected
    if (Number.isNaN(kg)) return -1
    requireNumber(`expected.${stretch}.kg`, kg)
    requireNumber(`expected.${stretch}.variance`, variance, { above: 0 })
    return stretches.push(stretch) - 1
  })
  return { stretches, rowOf }
}

function systemOf(
  { readings }: Trail,
  { stretchOf, before }: Stretches,
  expected: readonly Expected[],
): ResidualSystem {
  const { stretches, rowOf } = rowsOf(expected)
  const rowAt = (reading: number) => {
    const stretch = stretchOf[reading] as number
    return stretch < 0 ? -1 : (rowOf[stretch] as number)
  }
  const opens = new Int32Array(readings.length).fill(-1)
  for (let reading = 0; reading < readings.length; reading += 1) {
    const earlier = before[reading] as number
    if (earlier >= 0) opens[earlier] = rowAt(reading)
  }
  const each = (of: (reading: Trail['readings'][number]) => number) =>
    floats(readings.length, (i) => of(readings[i] as Trail['readings'][number]))
  const inRow = (of: (expected: Expected) => number) =>
    floats(stretches.length, (row) => of(expected[stretches[row] as number] as Expected))
  const balances: Balances = {
    totals: inRow((one) => one.kg),
    totalVariances: inRow((one) => one.variance),
    values: each((one) => one.gasKg),
    variances: each((one) => one.standardUncertaintyKg ** 2),
    opens,
    closes: integers(readings.length, rowAt),
  }
  const residuals = residualsOf(balances)
  const { solve, inverse } = solveBlocks(transfersOf(balances))
  const multipliers = solve(residuals)
  const spread = (column: Float64Array) =>
    floats(expected.length, (stretch) => {
      const row = rowOf[stretch] as number
      return row < 0 ? 0 : (column[row] as number)
    })
  return {
    size: expected.length,
    residuals: spread(residuals),
    multipliers: spread(multipliers),
    inverse: (one, other) => {
      const [row, column] = [rowOf[one] as number, rowOf[other] as number]
      return row < 0 || column < 0 ? 0 : inverse(row, column)
    },
    solve: (column) =>
      spread(solve(floats(stretches.length, (row) => column[stretches[row] as number] as number))),
  }
}
