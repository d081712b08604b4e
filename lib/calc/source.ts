/** How a number is known. `entered` is the user's own figure. */
export type Provenance = 'read' | 'from memory' | 'derived' | 'common practice' | 'entered'

/** Where a number comes from, so that a screen can open it. */
export type Source = {
  /** Key of the formula's explanation in `messages/`. */
  formulaCode: string
  inputs: { name: string; value: number | string; unit: string }[]
  /** A table in `lib/calc/tables`, when one was looked up. */
  tableId: string | null
  /** Of the weakest input. */
  provenance: Provenance
}

/** A number with its unit and where it comes from. */
export type Traced = { value: number; unit: string; source: Source }

/** One term of an uncertainty or of a sum. */
export type Term = {
  code: string
  value: number
  unit: string
  /** What this term contributes to the result, as a standard uncertainty, in the result's unit. */
  contribution: number
  provenance: Provenance
}

/** A number, how well it is known, and the interval that holds it nine times in ten. */
export type Interval90 = {
  mean: number
  standardUncertainty: number
  low90: number
  high90: number
}
