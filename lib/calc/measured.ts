import type { Interval90, Provenance, Source, Term } from './source'
import { normalInterval, quadrature } from './stats'
import { term } from './trace'

/** A result with its unit, how well it is known, the terms of that, and where it comes from. */
export type Measured = Interval90 & { unit: string; chain: Term[]; source: Source }

/** One input of a formula: its value, how well it is known, and where that is from. */
export type Input = {
  value: number
  standardUncertainty: number
  unit: string
  provenance: Provenance
  /** The input never leaves these while its effect is sought. */
  min?: number
  max?: number
}

/** Weakest last. The user's own figure is taken as it is. */
const FROM_STRONG_TO_WEAK: readonly Provenance[] = [
  'entered',
  'read',
  'derived',
  'from memory',
  'common practice',
]

/** The weakest of several ways to know a number. */
export function weakest(provenances: readonly Provenance[]): Provenance {
  const rank = Math.max(0, ...provenances.map((one) => FROM_STRONG_TO_WEAK.indexOf(one)))
  return FROM_STRONG_TO_WEAK[rank] ?? 'common practice'
}

/** An input; without an uncertainty it is taken as exact. */
export function input(
  value: number,
  unit: string,
  known: { u?: number; provenance?: Provenance; min?: number; max?: number } = {},
): Input {
  const { u = 0, provenance = 'entered', min, max } = known
  return {
    value,
    unit,
    provenance,
    standardUncertainty: u,
    ...(min === undefined ? {} : { min }),
    ...(max === undefined ? {} : { max }),
  }
}

/**
 * A formula evaluated at its inputs, with each input's effect on the result.
 *
 * @param formula inputs by name, the function of their values, the result's unit and bounds
 * @returns the result; the terms add in quadrature
 * @remarks Each effect is half the difference between the input one standard uncertainty up and down, as GUM
 *   5.1.3 note 2 gives it; at a bound, the whole difference on the side that is left.
 * @source JCGM 100:2008 (GUM), 5.1.2 and 5.1.3, from memory; inputs independent
 */
export function measure<K extends string>(formula: {
  formulaCode: string
  unit: string
  inputs: Readonly<Record<K, Input>>
  of: (values: Readonly<Record<K, number>>) => number
  tableId?: string
  min?: number
  max?: number
}): Measured {
  const entries = Object.entries(formula.inputs) as [K, Input][]
  const values = Object.fromEntries(entries.map(([name, { value }]) => [name, value])) as Record<
    K,
    number
  >
  const mean = formula.of(values)
  const at = (name: K, value: number) => formula.of({ ...values, [name]: value })
  const chain = entries
    .filter(([, one]) => one.standardUncertainty > 0)
    .map(([name, one]) => {
      const effect = effectOf(one, mean, (value) => at(name, value))
      return term(name, [one.standardUncertainty, one.unit], effect, one.provenance)
    })
  return fromTerms({ ...formula, mean, chain, inputs: entries })
}

/** A result whose terms are already known. */
function fromTerms(known: {
  formulaCode: string
  unit: string
  mean: number
  chain: Term[]
  inputs: readonly (readonly [string, Input])[]
  tableId?: string
  min?: number
  max?: number
}): Measured {
  const { min, max } = known
  const interval = normalInterval({
    mean: known.mean,
    standardUncertainty: quadrature(known.chain.map((one) => one.contribution)),
    ...(min === undefined ? {} : { min }),
    ...(max === undefined ? {} : { max }),
  })
  return {
    ...interval,
    unit: known.unit,
    chain: known.chain,
    source: {
      formulaCode: known.formulaCode,
      inputs: known.inputs.map(([name, { value, unit }]) => ({ name, value, unit })),
      tableId: known.tableId ?? null,
      provenance: weakest(known.inputs.map(([, { provenance }]) => provenance)),
    },
  }
}

function effectOf(one: Input, mean: number, at: (value: number) => number): number {
  const up = one.value + one.standardUncertainty
  const down = one.value - one.standardUncertainty
  const canUp = one.max === undefined || up <= one.max
  const canDown = one.min === undefined || down >= one.min
  if (canUp && canDown) return Math.abs(at(up) - at(down)) / 2
  if (canUp) return Math.abs(at(up) - mean)
  if (canDown) return Math.abs(mean - at(down))
  const low = one.min ?? one.value
  const high = one.max ?? one.value
  return Math.abs(at(high) - at(low))
}
