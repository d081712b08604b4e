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
import type { Evaluation, LayerId, PrecautionDue } from '@/lib/rules/types'
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

/** A precaution that the area's drawing alone asks for: it goes when the drawing shows it gone. */
function fromDrawing(evaluation: Evaluation, due: PrecautionDue): PrecautionExplained {
  const askedBy = evaluation.perLayer.flatMap(({ layerId, precautions }) => {
    const own = precautions.find((one) => one.id === due.id)
    return own ? [{ layerId, rules: own.rules, fields: own.conditions }] : []
  })
  const conditions = due.conditions.map((field) => ({ field, value: null }))
  return { id: due.id, askedBy, conditions, goesAwayBy: [], protectionFactorAbove: null }
}

/**
 * Why each precaution is asked for and each refusal stands, by which layer and rule, and what would
 * be rid of it; by the rules of the day it was issued.
 */
export async function getPermitRules(viewer: Viewer, permitId: string): Promise<PermitRulesView> {
  const context = await readPermitContext(viewer, permitId)
  const { layers, conditions, facts, evaluation } = context
  const cards = [...layers, ALWAYS_LAYER].map(layerCard)
  const explained = explainPrecautions(layers, conditions)
  const drawn = evaluation.precautions
    .filter((due) => explained.every((one) => one.id !== due.id))
    .map((due) => fromDrawing(evaluation, due))
  return {
    head: toHead(context),
    issuedAt: facts.issuedAt,
    layers: cards,
    precautions: [...explained, ...drawn].map((one) => ({
      ...one,
      askedBy: one.askedBy.map((asked) => asking(cards, asked)),
    })),
    refusals: explainRefusals(layers, conditions).map(({ reasons, ...rest }) => ({
      ...rest,
      askedBy: byLayer(reasons).map((asked) => asking(cards, asked)),
    })),
  }
}
