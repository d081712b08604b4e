import { floats } from './reconcile-arrays'
import { forestSolver, walkTransfers } from './reconcile-forest'
import { solverFor } from './reconcile-solver'
import type { Solver, TransferMatrix } from './reconcile-types'

/** A block whose hand-overs close a circle, on its own: its rows of the whole, lowest first. */
type Circled = { rows: number[]; solver: Solver }

/**
 * Solves S x = column for many blocks at once: all trees by one elimination, each block with circles by itself.
 *
 * A record of a site falls into thousands of blocks of a few balances each: laid out one by one they cost more
 * than they are to solve.
 *
 * @param matrix S of any number of blocks
 * @returns entries of the inverse between two blocks are nought; else as `solverFor` of the block
 * @source block diagonal matrices are inverted block by block
 */
export function solveBlocks(matrix: TransferMatrix): Omit<Solver, 'method'> {
  const walk = walkTransfers(matrix)
  const { blocks } = walk
  const forest = forestSolver(matrix, walk)
  const circled = circledBlocks(matrix, blocks, walk.blockCount)
  if (circled.size === 0) return forest
  const localOf = new Int32Array(matrix.size)
  for (const { rows } of circled.values())
    rows.forEach((row, local) => {
      localOf[row] = local
    })
  return {
    inverse: (row, column) => {
      const block = blocks[row] as number
      const own = circled.get(block)
      if (!own) return forest.inverse(row, column)
      if (blocks[column] !== block) return 0
      return own.solver.inverse(localOf[row] as number, localOf[column] as number)
    },
    solve: (column) => {
      const x = forest.solve(column)
      for (const { rows, solver } of circled.values()) {
        const solved = solver.solve(floats(rows.length, (i) => column[rows[i] as number] as number))
        rows.forEach((row, local) => {
          x[row] = solved[local] as number
        })
      }
      return x
    },
  }
}

/** A tree of n balances has n − 1 hand-overs, each written twice; what has more closes a circle. */
function circledBlocks(
  matrix: TransferMatrix,
  blocks: Int32Array,
  count: number,
): Map<number, Circled> {
  const { size, starts } = matrix
  const extra = new Int32Array(count).fill(2)
  for (let row = 0; row < size; row += 1) {
    const block = blocks[row] as number
    extra[block] =
      (extra[block] as number) + (starts[row + 1] as number) - (starts[row] as number) - 2
  }
  const rowsOf = new Map<number, number[]>()
  for (let row = 0; row < size; row += 1) {
    const block = blocks[row] as number
    if (extra[block] === 0) continue
    const rows = rowsOf.get(block)
    if (rows) rows.push(row)
    else rowsOf.set(block, [row])
  }
  return new Map(
    [...rowsOf].map(([block, rows]) => {
      const own = part(matrix, rows)
      return [block, { rows, solver: solverFor(own, walkTransfers(own)) }]
    }),
  )
}

/** Some rows of a matrix that reach no other row. */
function part({ diagonal, starts, neighbours, weights }: TransferMatrix, rows: readonly number[]) {
  const localOf = new Map(rows.map((row, local) => [row, local]))
  const [own, among]: [number[], number[]] = [[], []]
  const ends = [0]
  for (const row of rows) {
    for (let p = starts[row] as number; p < (starts[row + 1] as number); p += 1) {
      own.push(localOf.get(neighbours[p] as number) as number)
      among.push(weights[p] as number)
    }
    ends.push(own.length)
  }
  return {
    size: rows.length,
    diagonal: floats(rows.length, (i) => diagonal[rows[i] as number] as number),
    starts: Int32Array.from(ends),
    neighbours: Int32Array.from(own),
    weights: Float64Array.from(among),
  }
}
