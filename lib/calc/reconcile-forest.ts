import type { Solver, TransferMatrix } from './reconcile-types'

/** Jobs in an order in which each comes after its parent. */
export type Walk = {
  order: Int32Array
  /** −1 for the first of a block. */
  parents: Int32Array
  /** Weight of the edge to the parent. */
  parentWeights: Float64Array
  depths: Int32Array
  /** Which block of joined jobs each belongs to, and how many there are. */
  blocks: Int32Array
  blockCount: number
}

/** Walks the graph of hand-overs breadth first from the lowest job of each block. */
export function walkTransfers(matrix: TransferMatrix): Walk {
  const { size, starts, neighbours, weights } = matrix
  const walk: Walk = {
    order: new Int32Array(size),
    parents: new Int32Array(size).fill(-1),
    parentWeights: new Float64Array(size),
    depths: new Int32Array(size),
    blocks: new Int32Array(size).fill(-1),
    blockCount: 0,
  }
  let end = 0
  for (let root = 0; root < size; root += 1) {
    if ((walk.blocks[root] as number) >= 0) continue
    let done = end
    walk.blocks[root] = walk.blockCount
    walk.order[end++] = root
    for (; done < end; done += 1) {
      const j = walk.order[done] as number
      for (let p = starts[j] as number; p < (starts[j + 1] as number); p += 1) {
        const k = neighbours[p] as number
        if ((walk.blocks[k] as number) >= 0) continue
        walk.blocks[k] = walk.blockCount
        walk.parents[k] = j
        walk.parentWeights[k] = weights[p] as number
        walk.depths[k] = (walk.depths[j] as number) + 1
        walk.order[end++] = k
      }
    }
    walk.blockCount += 1
  }
  return walk
}

/** Whether no hand-overs close a circle: then elimination from the leaves is exact and linear. */
export function isForest(matrix: TransferMatrix, walk: Walk): boolean {
  return matrix.neighbours.length === 2 * (matrix.size - walk.blockCount)
}

/**
 * Exact elimination from the leaves to the roots and back.
 *
 *     up: f = w/d   d_p −= w f   r_p += f r      down: λ = r/d + (w/d) λ_p
 *     C_jj = 1/d_j + (w/d_j)² C_pp    C_jk = (w/d_j) C_pk  for k outside the branch of j
 *
 * @param matrix S of a forest, with its walk
 * @returns a solver in O(jobs); an entry of the inverse in O(depth)
 * @source Gaussian elimination on a tree; entries of the inverse as Takahashi (from memory)
 */
export function forestSolver(matrix: TransferMatrix, walk: Walk): Solver {
  const { size } = matrix
  const { order, parents, parentWeights, depths, blocks } = walk
  const pivots = matrix.diagonal.slice()
  const ratios = new Float64Array(size)
  for (let n = size - 1; n >= 0; n -= 1) {
    const j = order[n] as number
    if ((parents[j] as number) < 0) continue
    ratios[j] = (parentWeights[j] as number) / (pivots[j] as number)
    pivots[parents[j] as number] =
      (pivots[parents[j] as number] as number) +
      -(parentWeights[j] as number) * (ratios[j] as number)
  }
  const own = new Float64Array(size)
  for (let n = 0; n < size; n += 1) {
    const j = order[n] as number
    const above = (parents[j] as number) < 0 ? 0 : (own[parents[j] as number] as number)
    own[j] = 1 / (pivots[j] as number) + (ratios[j] as number) ** 2 * above
  }
  const inverse = (row: number, column: number): number => {
    if ((blocks[row] as number) !== (blocks[column] as number)) return 0
    let [j, k, product] = [row, column, 1]
    while (j !== k) {
      const isDeeper = (depths[j] as number) >= (depths[k] as number)
      product *= ratios[isDeeper ? j : k] as number
      if (isDeeper) j = parents[j] as number
      else k = parents[k] as number
    }
    return product * (own[j] as number)
  }
  return {
    method: 'forest',
    inverse,
    solve: (column) => solveForest({ walk, pivots, ratios }, column),
  }
}

function solveForest(
  { walk, pivots, ratios }: { walk: Walk; pivots: Float64Array; ratios: Float64Array },
  column: ArrayLike<number>,
): Float64Array {
  const { order, parents } = walk
  const x = Float64Array.from(column)
  for (let n = order.length - 1; n >= 0; n -= 1) {
    const j = order[n] as number
    if ((parents[j] as number) >= 0)
      x[parents[j] as number] =
        (x[parents[j] as number] as number) + (ratios[j] as number) * (x[j] as number)
  }
  for (let n = 0; n < order.length; n += 1) {
    const j = order[n] as number
    const above = (parents[j] as number) < 0 ? 0 : (x[parents[j] as number] as number)
    x[j] = (x[j] as number) / (pivots[j] as number) + (ratios[j] as number) * above
  }
  return x
}
