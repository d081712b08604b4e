/** Terms of a row: column and coefficient. */
export type MilpTerm = readonly [column: number, coefficient: number]

/** A mixed-integer program as rows: least cost over columns within their bounds. */
export type Milp = Readonly<{
  offset: number
  cost: Float64Array
  lower: Float64Array
  upper: Float64Array
  isInteger: Int32Array
  rowLower: Float64Array
  rowUpper: Float64Array
  rowStarts: Int32Array
  columns: Int32Array
  coefficients: Float64Array
}>

/** Collects columns and rows. Infinite bounds are ±1e30, which solvers take for none. */
export class MilpBuilder {
  offset = 0
  /** What rows are about while they are added, as whoever adds them sets it. */
  about: string | null = null
  readonly rowsAbout: (string | null)[] = []
  private readonly cost: number[] = []
  private readonly lower: number[] = []
  private readonly upper: number[] = []
  private readonly isInteger: number[] = []
  private readonly rowLower: number[] = []
  private readonly rowUpper: number[] = []
  private readonly starts: number[] = [0]
  private readonly indices: number[] = []
  private readonly values: number[] = []

  /** A whole number from 0 to `upper`. */
  whole(cost: number, upper: number): number {
    return this.column(cost, upper, true)
  }

  column(cost: number, upper = MilpBuilder.NONE, isInteger = false): number {
    this.cost.push(cost)
    this.lower.push(0)
    this.upper.push(Math.max(0, upper))
    this.isInteger.push(isInteger ? 1 : 0)
    return this.cost.length - 1
  }

  /** Terms of the same column are added up. */
  row(terms: readonly MilpTerm[], bounds: { least?: number; most?: number }): number {
    const sums = new Map<number, number>()
    for (const [column, coefficient] of terms)
      sums.set(column, (sums.get(column) ?? 0) + coefficient)
    for (const [column, coefficient] of sums) {
      if (coefficient === 0) continue
      this.indices.push(column)
      this.values.push(coefficient)
    }
    this.starts.push(this.indices.length)
    this.rowsAbout.push(this.about)
    this.rowLower.push(bounds.least ?? -MilpBuilder.NONE)
    this.rowUpper.push(bounds.most ?? MilpBuilder.NONE)
    return this.rowLower.length - 1
  }

  build(): Milp {
    return {
      offset: this.offset,
      cost: Float64Array.from(this.cost),
      lower: Float64Array.from(this.lower),
      upper: Float64Array.from(this.upper),
      isInteger: Int32Array.from(this.isInteger),
      rowLower: Float64Array.from(this.rowLower),
      rowUpper: Float64Array.from(this.rowUpper),
      rowStarts: Int32Array.from(this.starts),
      columns: Int32Array.from(this.indices),
      coefficients: Float64Array.from(this.values),
    }
  }

  static readonly NONE = 1e30
}
