/** Residuals of balances and the inverse of their covariance S, whichever way they were solved. */
export type ResidualSystem = {
  /** Number of balances. */
  size: number
  residuals: ArrayLike<number>
  /** S⁻¹ r. */
  multipliers: ArrayLike<number>
  /** One entry of S⁻¹; NaN where it was not computed. */
  inverse: (row: number, column: number) => number
  /** S⁻¹ times a column. */
  solve: (column: ArrayLike<number>) => Float64Array
}
