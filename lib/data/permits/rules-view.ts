import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import {
  explainPrecautions,
  explainRefusals,
  type PrecautionExplained,
  type RefusalExplained,
} from '@/lib/rules/explain'
import { type LayerCard, layerCard, type RuleSource, ruleSource } from '@/lib/rules/layer-card'
import { ALWAYS_LAYER } from '@/lib/rules/layers'
import type { LayerId } from '@/lib/rules/types'
import { readPermitContext } from './context'
import { type PermitHead, toHead } from './head'

/** A layer that asked, with where its rules stand; no sources: its own number, without a rule. */
export type Asking = Readonly<{
  layerId: LayerId
  label: string
  sources: readonly RuleSource[]
}>

export type PrecautionView = Omit<PrecautionExplained, 'askedBy'> &
  Readonly<{ askedBy: readonly Asking[] }>
export type RefusalView = Omit<RefusalExplained, 'reasons'> &
  Readonly<{ askedBy: readonly Asking[] }>

export type PermitRulesView = Readonly<{
  head: PermitHead
  /** The day whose rules it is judged by, once it was issued. */
  issuedAt: Date | null
  layers: readonly LayerCard[]
  precautions: readonly PrecautionView[]
  refusals: readonly RefusalView[]
}>

type Asked = Readonly<{ layerId: LayerId; rules: readonly (string | null)[] }>

function asking(cards: readonly LayerCard[], { layerId, rules }: Asked): Asking {
  const sources = [...new Set(rules)].map(ruleSource).filter((one) => one !== null)
  const once = sources.filter(
    (source, at) => sources.findIndex((other) => other.citation === source.citation) === at,
  )
  const label = cards.find((card) => card.id === layerId)?.label ?? layerId
  return { layerId, label, sources: once }
}

/** Several rules of one layer are said together. */
function byLayer(reasons: RefusalExplained['reasons']): Asked[] {
  return [...new Set(reasons.map((reason) => reason.layerId))].map((layerId) => ({
    layerId,
    rules: reasons.filter((one) => one.layerId === layerId).map((one) => one.ruleId),
  }))
}

/**
 * Why each precaution is asked for and each refusal stands, by which layer and rule, and what would
 * be rid of it; by the rules of the day it was issued.
 */
export async function getPermitRules(viewer: Viewer, permitId: string): Promise<PermitRulesView> {
  const context = await readPermitContext(viewer, permitId)
  const { layers, conditions, facts } = context
  const cards = [...layers, ALWAYS_LAYER].map(layerCard)
  return {
    head: toHead(context),
    issuedAt: facts.issuedAt,
    layers: cards,
    precautions: explainPrecautions(layers, conditions).map((one) => ({
      ...one,
      askedBy: one.askedBy.map((asked) => asking(cards, asked)),
    })),
    refusals: explainRefusals(layers, conditions).map(({ reasons, ...rest }) => ({
      ...rest,
      askedBy: byLayer(reasons).map((asked) => asking(cards, asked)),
    })),
  }
}
