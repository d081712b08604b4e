import { floats } from './reconcile-arrays'
import type { Balances, TransferMatrix } from './reconcile-types'

/** What each balance is off by: opened less closed less the total, kg. */
export function residualsOf(problem: Balances): Float64Array {
  const { totals, values, opens, closes } = problem
  const residuals = new Float64Array(totals.length)
  for (let i = 0; i < values.length; i += 1) {
    if ((opens[i] as number) >= 0)
      residuals[opens[i] as number] =
        (residuals[opens[i] as number] as number) + (values[i] as number)
    if ((closes[i] as number) >= 0)
      residuals[closes[i] as number] =
        (residuals[closes[i] as number] as number) + -(values[i] as number)
  }
  for (let j = 0; j < totals.length; j += 1)
    residuals[j] = (residuals[j] as number) + -(totals[j] as number)
  return residuals
}

/**
 * Covariance of the balances: the totals' variances and a weighted graph of hand-overs between jobs.
 *
 * @param problem one component or many; shared errors of gauges are left out
 * @returns S, neighbours in the order of the readings that join them, one entry a pair
 * @source S = R + Σ v of readings that touch one balance once; −Σ v between two (own derivation, §`reconcileDense`)
 */
export function transfersOf(problem: Balances): TransferMatrix {
  const { totalVariances, variances, opens, closes } = problem
  const size = totalVariances.length
  const diagonal = floats(size, (j) => totalVariances[j] as number)
  const starts = new Int32Array(size + 1)
  for (let i = 0; i < variances.length; i += 1) {
    const [a, b] = [opens[i] as number, closes[i] as number]
    if (a === b) continue
    if (a >= 0) diagonal[a] = (diagonal[a] as number) + (variances[i] as number)
    if (b >= 0) diagonal[b] = (diagonal[b] as number) + (variances[i] as number)
    if (a < 0 || b < 0) continue
    starts[a + 1] = (starts[a + 1] as number) + 1
    starts[b + 1] = (starts[b + 1] as number) + 1
  }
  for (let j = 0; j < size; j += 1)
    starts[j + 1] = (starts[j + 1] as number) + (starts[j] as number)
  return merged({ size, diagonal, ...listed(problem, starts) })
}

/** Every hand-over in both rows, those of one pair not yet together. */
function listed({ variances, opens, closes }: Balances, starts: Int32Array) {
  const next = starts.slice(0, -1)
  const neighbours = new Int32Array(starts[starts.length - 1] as number)
  const weights = new Float64Array(neighbours.length)
  const put = (row: number, column: number, weight: number) => {
    const place = next[row] as number
    neighbours[place] = column
    weights[place] = weight
    next[row] = place + 1
  }
  for (let i = 0; i < variances.length; i += 1) {
    const [a, b] = [opens[i] as number, closes[i] as number]
    if (a === b || a < 0 || b < 0) continue
    put(a, b, variances[i] as number)
    put(b, a, variances[i] as number)
  }
  return { starts, neighbours, weights }
}

function merged(matrix: TransferMatrix): TransferMatrix {
  const { size, starts, neighbours, weights } = matrix
  const placeOf = new Int32Array(size).fill(-1)
  const newStarts = new Int32Array(size + 1)
  let end = 0
  for (let j = 0; j < size; j += 1) {
    const from = end
    for (let p = starts[j] as number; p < (starts[j + 1] as number); p += 1) {
      const k = neighbours[p] as number
      if ((placeOf[k] as number) >= from)
        weights[placeOf[k] as number] =
          (weights[placeOf[k] as number] as number) + (weights[p] as number)
      else {
        placeOf[k] = end
        neighbours[end] = k
        weights[end] = weights[p] as number
        end += 1
      }
    }
    newStarts[j + 1] = end
  }
  return {
    ...matrix,
    starts: newStarts,
    neighbours: neighbours.slice(0, end),
    weights: weights.slice(0, end),
  }
}

/** S times a column. */
export function timesTransfers(matrix: TransferMatrix, column: ArrayLike<number>): Float64Array {
  const { size, diagonal, starts, neighbours, weights } = matrix
  const product = new Float64Array(size)
  for (let j = 0; j < size; j += 1) {
    let sum = (diagonal[j] as number) * (column[j] as number)
    for (let p = starts[j] as number; p < (starts[j + 1] as number); p += 1)
      sum -= (weights[p] as number) * (column[neighbours[p] as number] as number)
    product[j] = sum
  }
  return product
}
