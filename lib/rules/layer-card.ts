import { findRule } from './catalogue'
import { PARAMETER_NAMES } from './parameters'
import type { Layer, LayerId, LayerParameters, ParameterName, PrecautionId } from './types'

/** Where a rule stands, in which edition, and whether the text was read. */
export interface RuleSource {
  citation: string
  edition: string
  provenance: 'read' | 'memory'
}

/** The values that a layer sets, each with the rule that sets it; null: the layer's own, without a rule. */
interface LayerValue {
  name: ParameterName
  value: number | true
  source: RuleSource | null
}

/** One layer as a person checks it: where it stands, how far it can be trusted, what it sets. */
export interface LayerCard
  extends Pick<
    Layer,
    | 'citation'
    | 'edition'
    | 'provenance'
    | 'trustPct'
    | 'trustWhy'
    | 'effectiveFrom'
    | 'effectiveTo'
  > {
  id: LayerId
  version: number
  label: string
  values: readonly LayerValue[]
  /** Asked for under every permit. */
  precautions: readonly PrecautionId[]
}

/** The source of a rule; null for an id that the catalogue does not hold. */
export function ruleSource(id: string | null): RuleSource | null {
  const rule = findRule(id)
  return rule && { citation: rule.citation, edition: rule.edition, provenance: rule.provenance }
}

const isSet = (value: LayerParameters[ParameterName]): value is number | true =>
  value !== null && value !== false

/**
 * A layer with the values that it sets; what it is silent on is left out.
 *
 * @param layer a published ruleset, one typed in, or the company's own
 */
export function layerCard(layer: Layer): LayerCard {
  const { parameters, parameterRules, precautions, trustPct, trustWhy, provenance, ...rest } = layer
  const values = PARAMETER_NAMES.flatMap((name): LayerValue[] => {
    const value = parameters[name]
    return isSet(value) ? [{ name, value, source: ruleSource(parameterRules[name] ?? null) }] : []
  })
  return { ...rest, trustPct, trustWhy, provenance, values, precautions: precautions ?? [] }
}
