import { CalcError } from './errors'
import { factorise, inverseOf, solveWith } from './reconcile-cholesky'
import { forestSolver, isForest, type Walk } from './reconcile-forest'
import { solveByGradients } from './reconcile-gradients'
import { selectedInverse } from './reconcile-selected-inverse'
import type { Solver, TransferMatrix } from './reconcile-types'

/** Jobs up to which a graph with circles is solved densely. */
export const MOST_DENSE_JOBS = 200

/**
 * The cheapest exact way to solve S x = column for a graph of hand-overs.
 *
 * @param matrix S
 * @param walk of the same graph
 * @returns elimination for a forest; a dense factor up to 200 jobs; conjugate gradients above, the inverse's
 *   entries then from a sparse factor where it stays sparse, else NaN
 */
export function solverFor(matrix: TransferMatrix, walk: Walk): Solver {
  if (isForest(matrix, walk)) return forestSolver(matrix, walk)
  if (matrix.size <= MOST_DENSE_JOBS) return denseSolver(matrix)
  const entry = once(() => selectedInverse(matrix))
  return {
    method: 'gradients',
    solve: (column) => solveByGradients(matrix, column),
    inverse: (row, column) => entry()?.(row, column) ?? Number.NaN,
  }
}

function denseSolver(matrix: TransferMatrix): Solver {
  const { size, diagonal, starts, neighbours, weights } = matrix
  const full = new Float64Array(size * size)
  for (let j = 0; j < size; j += 1) {
    full[j * size + j] = diagonal[j] as number
    for (let p = starts[j] as number; p < (starts[j + 1] as number); p += 1)
      full[j * size + (neighbours[p] as number)] = -(weights[p] as number)
  }
  const factor = factorise(full, size)
  if (!factor) throw new CalcError('OUT_OF_RANGE', 'totalVariances', 0, { above: 0 })
  const inverse = once(() => inverseOf(factor))
  return {
    method: 'dense',
    solve: (column) => solveWith(factor, column),
    inverse: (row, column) => inverse()[row * size + column] as number,
  }
}

/** Does a long piece of work when it is first asked for, and not again. */
export function once<T>(work: () => T): () => T {
  let kept: { value: T } | null = null
  return () => {
    kept ??= { value: work() }
    return kept.value
  }
}
