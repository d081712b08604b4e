import { RULES, type RuleId } from './catalogue'
import type { ConditionField } from './conditions'
import type { Row, WatchRow } from './rows'
import type { Decision, LayerId, PrecautionDue } from './types'
import { COMPANY_LAYER_ID, DECISION_ORDER } from './types'

/** What one line of the table says to one layer. */
interface Spoken {
  watch: readonly { ruleId: string | null; field: ConditionField; need: 'yes' | 'judgement' }[]
  decides: readonly { decision: Decision; ruleId: RuleId | null }[]
  asks: readonly PrecautionDue[]
}

const rulesOf = (rules: readonly RuleId[] | undefined, layerId: LayerId) =>
  (rules ?? []).filter((id) => (RULES[id].layers as readonly LayerId[]).includes(layerId))

export const isLocal = (layerId: LayerId) => layerId.startsWith('local:')

function watchOf(row: Row, layerId: LayerId): Spoken['watch'] {
  const field = row.fields[0]
  return (['yes', 'judgement'] as const).flatMap((need): Spoken['watch'] => {
    const wanted = row.watch?.[need]
    if (!wanted) return []
    if (layerId !== COMPANY_LAYER_ID)
      return rulesOf(wanted, layerId).map((ruleId) => ({ ruleId, field, need }))
    // The company watches wherever a text wants it or leaves it to judgement, one text's own wording aside.
    return row.isOneTextOnly ? [] : [{ ruleId: null, field, need }]
  })
}

function decidesOf(row: Row, layerId: LayerId): Spoken['decides'] {
  const published = DECISION_ORDER.flatMap((decision) =>
    rulesOf(row.decides?.[decision], layerId).map((ruleId) => ({ decision, ruleId })),
  )
  const house = row.house?.[layerId]
  return published.length > 0 || !house ? published : [{ decision: house, ruleId: null }]
}

/** The precautions that a line asks for in the name of this layer. */
export function asksOf(row: Row | WatchRow, layerId: LayerId): Spoken['asks'] {
  return (row.asks ?? []).flatMap(([id, rules]) => {
    const own = rulesOf(rules, layerId)
    return own.length > 0 ? [{ id, rules: own, conditions: row.fields }] : []
  })
}

// The table and the catalogue never change while the program runs, so each pair is worked out once.
const KNOWN = new WeakMap<Row, Map<string, Spoken>>()

/** What this line says to this layer; no line of the table speaks for a ruleset that was typed in. */
export function spoken(row: Row, layerId: LayerId): Spoken {
  const key = isLocal(layerId) ? 'local' : layerId
  const ofRow = KNOWN.get(row) ?? new Map<string, Spoken>()
  const known = ofRow.get(key)
  if (known) return known
  const found: Spoken = {
    watch: watchOf(row, layerId),
    decides: decidesOf(row, layerId),
    asks: asksOf(row, layerId),
  }
  KNOWN.set(row, ofRow.set(key, found))
  return found
}
