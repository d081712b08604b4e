import { CalcError } from './errors'
import { dot } from './reconcile-arrays'
import { timesTransfers } from './reconcile-transfers'
import type { TransferMatrix } from './reconcile-types'

/** Residual over that of the start at which the solution is good. */
const RELATIVE_RESIDUAL = 1e-13

/**
 * Solution of S x = column by conjugate gradients, each row scaled by its diagonal.
 *
 * @param matrix S, diagonally dominant
 * @returns x, its residual at most 1e-13 of the column's
 * @throws {CalcError} OUT_OF_RANGE where it does not settle, which a dominant diagonal excludes
 * @source Hestenes & Stiefel 1952 with Jacobi's preconditioner (from memory); sums in a fixed order
 */
export function solveByGradients(matrix: TransferMatrix, column: ArrayLike<number>): Float64Array {
  const { size, diagonal } = matrix
  const x = new Float64Array(size)
  const residual = Float64Array.from(column)
  const scaled = residual.map((value, j) => value / (diagonal[j] as number))
  const direction = Float64Array.from(scaled)
  let product = dot(residual, scaled)
  const enough = RELATIVE_RESIDUAL ** 2 * product
  const most = 10 * size + 100
  for (let round = 0; product > enough; round += 1) {
    if (round > most) throw new CalcError('OUT_OF_RANGE', 'rounds', round, { max: most })
    const ahead = timesTransfers(matrix, direction)
    const step = product / dot(direction, ahead)
    for (let j = 0; j < size; j += 1) {
      x[j] = (x[j] as number) + step * (direction[j] as number)
      residual[j] = (residual[j] as number) - step * (ahead[j] as number)
      scaled[j] = (residual[j] as number) / (diagonal[j] as number)
    }
    const before = product
    product = dot(residual, scaled)
    const turn = product / before
    for (let j = 0; j < size; j += 1)
      direction[j] = (scaled[j] as number) + turn * (direction[j] as number)
  }
  return x
}
