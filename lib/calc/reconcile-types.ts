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

/** What balances need of readings and jobs. */
export type Balances = {
  /** kg, and kg² above nought, of each job that has an independent total. */
  totals: Float64Array
  totalVariances: Float64Array
  /** kg and kg², readings oldest first within each filling of a cylinder. */
  values: Float64Array
  variances: Float64Array
  opens: Int32Array
  closes: Int32Array
}

/**
 * Readings and jobs that touch each other, counted from nought within themselves.
 *
 * A reading opens the job that the cylinder goes to next and closes the one it came from; −1 where there is
 * none, or none with a total of its own.
 */
export type ComponentProblem = Balances & {
  /** The reading before of the same filling, or −1. */
  before: Int32Array
  /** The gauge whose error the reading shares, or −1, and what one unit of that error adds, kg. */
  gauges: Int32Array
  gains: Float64Array
  /** Prior variance of each gauge's error, in its own unit squared. */
  gaugeVariances: Float64Array
}

/** S without shared errors: a diagonal and, between jobs that hand cylinders over, −weight. */
export type TransferMatrix = {
  size: number
  diagonal: Float64Array
  /** Neighbours of job j stand from starts[j] up to starts[j + 1]. */
  starts: Int32Array
  neighbours: Int32Array
  weights: Float64Array
}

export type Solver = {
  method: 'forest' | 'dense' | 'gradients'
  solve: (column: ArrayLike<number>) => Float64Array
  /** One entry of S⁻¹; NaN where it was not computed. */
  inverse: (row: number, column: number) => number
}

/** A weight on each of some readings. */
export type Combination = readonly { reading: number; weight: number }[]

/**
 * Readings of cylinders in the order of their events, in columns.
 *
 * A filling is one cylinder from full to returned. Each reading but a filling's first names the job that the
 * cylinder served since the reading before: −1 where nobody said. Storage is a job of its own, with a total
 * of nought or of what is expected to boil off.
 */
export type GasRecord = {
  fillings: ArrayLike<number>
  jobs: ArrayLike<number>
  contentsKg: ArrayLike<number>
  /** kg², above nought. */
  variances: ArrayLike<number>
  /** −1 where the instrument is unknown or its shared error is counted in the variance. */
  gauges?: ArrayLike<number>
  /** kg that one unit of the gauge's error adds; 1 where left out. */
  gains?: ArrayLike<number>
  /** Independent total of each job, kg, NaN where there is none, and its variance, above nought. */
  totalsKg: ArrayLike<number>
  totalVariances: ArrayLike<number>
  /** Prior variance of each gauge's shared error, above nought. */
  gaugeVariances?: ArrayLike<number>
}

export type GasReading = {
  filling: number
  job: number
  contentsKg: number
  variance: number
  gauge?: number
  gain?: number
}
