import type { Provenance, Source, Traced } from './source'

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
