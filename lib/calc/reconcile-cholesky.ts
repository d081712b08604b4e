/** A pivot below this share of its diagonal means that one row follows from the others. */
const LEAST_PIVOT = 1e-12

/** Lower factor of a symmetric positive definite matrix, both row by row in one array. */
export type Cholesky = { size: number; lower: Float64Array }

/**
 * Cholesky factor of a symmetric positive definite matrix.
 *
 * @param matrix size × size numbers, row by row; only the lower half is read
 * @returns the factor, or null where the matrix has no full rank
 * @source textbook, row by row (from memory)
 */
export function factorise(matrix: ArrayLike<number>, size: number): Cholesky | null {
  const lower = new Float64Array(size * size)
  for (let i = 0; i < size; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      let sum = matrix[i * size + j] as number
      for (let k = 0; k < j; k += 1)
        sum -= (lower[i * size + k] as number) * (lower[j * size + k] as number)
      if (i !== j) lower[i * size + j] = sum / (lower[j * size + j] as number)
      else if (sum > LEAST_PIVOT * (matrix[i * size + i] as number))
        lower[i * size + i] = Math.sqrt(sum)
      else return null
    }
  }
  return { size, lower }
}

/** Solution of matrix · x = column. */
export function solveWith({ size, lower }: Cholesky, column: ArrayLike<number>): Float64Array {
  const x = Float64Array.from(column)
  for (let i = 0; i < size; i += 1) {
    let sum = x[i] as number
    for (let k = 0; k < i; k += 1) sum -= (lower[i * size + k] as number) * (x[k] as number)
    x[i] = sum / (lower[i * size + i] as number)
  }
  for (let i = size - 1; i >= 0; i -= 1) {
    let sum = x[i] as number
    for (let k = i + 1; k < size; k += 1) sum -= (lower[k * size + i] as number) * (x[k] as number)
    x[i] = sum / (lower[i * size + i] as number)
  }
  return x
}

/** The inverse, row by row. */
export function inverseOf(factor: Cholesky): Float64Array {
  const { size } = factor
  const inverse = new Float64Array(size * size)
  const unit = new Float64Array(size)
  for (let j = 0; j < size; j += 1) {
    unit.fill(0)
    unit[j] = 1
    inverse.set(solveWith(factor, unit), j * size)
  }
  return inverse
}
