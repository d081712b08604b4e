import { estimateCutList } from '@/lib/calc/estimate'
import { estimateContext } from '@/lib/calc/estimate-context'
import { estimateTotals } from '@/lib/calc/estimate-totals'
import type { CutInput } from '@/lib/calc/estimate-types'
import type { ListSettings } from '@/lib/calc/opened-cut'
import type { Refusal } from '@/lib/calc/refusal'
import type { Provenance, Source } from '@/lib/calc/source'
import type { ShownTotals } from '../totals-grid'

/** What one row takes by itself, or why it has no number. */
type RowNumbers =
  | Readonly<{ ok: true; oxygenKg: number }>
  | Readonly<{ ok: false; refusals: readonly Refusal[] }>

/** A row keeps its input until it is edited, so what that comes to is worked out once, when it is first in sight. */
const known = new WeakMap<CutInput, { settings: ListSettings; numbers: RowNumbers }>()

export function rowNumbers(input: CutInput, settings: ListSettings): RowNumbers {
  const before = known.get(input)
  if (before?.settings === settings) return before.numbers
  const outcome = estimateCutList({ ...settings, cuts: [input] })
  const numbers: RowNumbers = outcome.ok
    ? { ok: true, oxygenKg: outcome.cuts[0]?.oxygenKg.value ?? 0 }
    : { ok: false, refusals: outcome.refusals }
  known.set(input, { settings, numbers })
  return numbers
}

export type ListTotals = Readonly<{
  counted: number
  /** Rows that no flame cuts, or that the table does not reach. */
  refused: number
  shown: ShownTotals | null
}>

const sourceOf = (formulaCode: string, tableId: string | null, provenance: Provenance): Source => ({
  formulaCode,
  inputs: [],
  tableId,
  provenance,
})

/**
 * What all rows take, as a function of their inputs: the settings are worked out once, so that every
 * key costs only the sum over the rows.
 */
export function totalsOf(settings: ListSettings): (inputs: readonly CutInput[]) => ListTotals {
  const prepared = estimateContext(settings)
  if (!prepared.ok) return () => ({ counted: 0, refused: 0, shown: null })
  const { context } = prepared
  const { id, provenance } = context.chart
  return (inputs) => {
    const { cuts, refused, oxygen, fuel, time } = estimateTotals(inputs, context)
    const source = sourceOf('gasOfJob', id, provenance)
    const shown: ShownTotals = {
      oxygen: { ...oxygen, source },
      fuelGas: { ...fuel, source },
      time: { ...time, source: sourceOf('jobTime', null, 'common practice') },
    }
    return { counted: cuts, refused: refused.length, shown: cuts > 0 ? shown : null }
  }
}
