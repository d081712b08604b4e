import type { Provenance, Source, Term, Traced } from './source'

type Inputs = Readonly<Record<string, readonly [value: number | string, unit: string]>>

/** Builds a source; inputs are written `{ lengthM: [1.2, 'm'] }`. */
export function source(
  formulaCode: string,
  inputs: Inputs,
  known: { tableId?: string; provenance: Provenance },
): Source {
  return {
    formulaCode,
    inputs: Object.entries(inputs).map(([name, [value, unit]]) => ({ name, value, unit })),
    tableId: known.tableId ?? null,
    provenance: known.provenance,
  }
}

/** A number with its source. */
export function traced(value: number, unit: string, from: Source): Traced {
  return { value, unit, source: from }
}

/** A term of an uncertainty: what it is, how large, and what it does to the result. */
export function term(
  code: string,
  [value, unit]: readonly [value: number, unit: string],
  contribution: number,
  provenance: Provenance,
): Term {
  return { code, value, unit, contribution, provenance }
}
