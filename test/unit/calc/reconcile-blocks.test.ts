import fc from 'fast-check'
import { inverse, Matrix } from 'ml-matrix'
import { describe, expect, test } from 'vitest'
import { solveBlocks } from '@/lib/calc/reconcile-blocks'
import { transfersOf } from '@/lib/calc/reconcile-transfers'

/** Some jobs, and readings that each open one and close another: any graph, of many blocks, with circles or without. */
const balances = fc.integer({ min: 1, max: 12 }).chain((size) =>
  fc.record({
    totalVariances: fc.array(fc.double({ min: 0.01, max: 2, noNaN: true }), {
      minLength: size,
      maxLength: size,
    }),
    readings: fc.array(
      fc.record({
        open: fc.integer({ min: -1, max: size - 1 }),
        close: fc.integer({ min: -1, max: size - 1 }),
        variance: fc.double({ min: 0.01, max: 2, noNaN: true }),
      }),
      { maxLength: 14 },
    ),
  }),
)

function matrixOf({
  totalVariances,
  readings,
}: typeof balances extends fc.Arbitrary<infer T> ? T : never) {
  const size = totalVariances.length
  const matrix = transfersOf({
    totals: new Float64Array(size),
    totalVariances: Float64Array.from(totalVariances),
    values: new Float64Array(readings.length),
    variances: Float64Array.from(readings, (one) => one.variance),
    opens: Int32Array.from(readings, (one) => one.open),
    closes: Int32Array.from(readings, (one) => one.close),
  })
  const full = Matrix.zeros(size, size)
  for (let row = 0; row < size; row += 1) {
    full.set(row, row, matrix.diagonal[row] as number)
    for (let p = matrix.starts[row] as number; p < (matrix.starts[row + 1] as number); p += 1)
      full.set(row, matrix.neighbours[p] as number, -(matrix.weights[p] as number))
  }
  return { matrix, full }
}

describe('blocks solved together', () => {
  // Source: ml-matrix, inverse by LU of the written-out matrix.
  test('solutions and every entry of the inverse equal those of the written-out matrix', () => {
    fc.assert(
      fc.property(
        balances,
        fc.infiniteStream(fc.double({ min: -5, max: 5, noNaN: true })),
        (given, values) => {
          const { matrix, full } = matrixOf(given)
          const expected = inverse(full)
          const solver = solveBlocks(matrix)
          const column = Array.from({ length: matrix.size }, () => values.next().value as number)
          const wanted = expected.mmul(Matrix.columnVector(column)).to1DArray()
          solver.solve(column).forEach((value, row) => {
            expect(value).toBeCloseTo(wanted[row] as number, 7)
          })
          for (let row = 0; row < matrix.size; row += 1)
            for (let other = 0; other < matrix.size; other += 1)
              expect(solver.inverse(row, other)).toBeCloseTo(expected.get(row, other), 7)
        },
      ),
      { numRuns: 300 },
    )
  })

  test('blocks that share nothing have nought between them', () => {
    const { matrix } = matrixOf({
      totalVariances: [1, 1, 1, 1, 1],
      readings: [
        { open: 0, close: 1, variance: 0.5 },
        { open: 2, close: 3, variance: 0.5 },
        { open: 3, close: 4, variance: 0.5 },
        { open: 4, close: 2, variance: 0.5 },
      ],
    })
    const solver = solveBlocks(matrix)
    expect([solver.inverse(0, 2), solver.inverse(3, 1)]).toEqual([0, 0])
    expect(solver.inverse(2, 4)).toBeGreaterThan(0)
  })
})
