import type { ConditionField, Conditions } from './conditions'
import { ALWAYS_LAYER } from './layers'
import type { Row, WatchRow } from './rows'
import { isTorchWork, PERMIT_AREA_ROWS, ROWS, WATCH_ROWS } from './rows'
import { asksOf, isLocal, spoken } from './spoken'
import { combine, largest, mergePrecautions } from './strictest'
import type {
  Decision,
  Evaluation,
  EvaluationReason,
  Layer,
  LayerEvaluation,
  LayerId,
  PrecautionDue,
  PrecautionId,
} from './types'
import { ALWAYS_LAYER_ID, COMPANY_LAYER_ID, DECISION_ORDER } from './types'

type Need = 'yes' | 'judgement' | 'no'
type WatchReason = LayerEvaluation['watchReasons'][number]

const BLOCKING: ReadonlySet<Decision> = new Set(DECISION_ORDER.slice(0, 4))

/** True for the four decisions under which no work goes ahead. */
export function isBlocking(decision: Decision): boolean {
  return BLOCKING.has(decision)
}

function strictestDecision(decisions: readonly Decision[]): Decision {
  return DECISION_ORDER.find((decision) => decisions.includes(decision)) ?? 'forbidden'
}

function shownValue(c: Conditions, field: ConditionField): EvaluationReason['value'] {
  const value = c[field]
  return typeof value === 'object' ? null : value
}

function watchReasonsOf(
  rows: readonly Row[],
  { id: layerId, parameters, parameterRules }: Layer,
  c: Conditions,
  isFireSafe: boolean,
): WatchReason[] {
  const fromRows = rows.flatMap((row) => spoken(row, layerId).watch)
  const afterTorch =
    layerId === COMPANY_LAYER_ID && c.areaClass !== 'designated' && isTorchWork(c.process)
  const always = parameters.watchEveryPermit && !isFireSafe
  const ruleId = parameterRules.watchEveryPermit ?? null
  return [
    ...fromRows,
    ...(afterTorch ? [{ ruleId: null, field: 'process', need: 'yes' } as const] : []),
    ...(always ? [{ ruleId, field: 'areaClass', need: 'yes' } as const] : []),
  ]
}

function decisionReasons(
  rows: readonly Row[],
  layerId: LayerId,
  c: Conditions,
): EvaluationReason[] {
  return rows.flatMap((row) =>
    spoken(row, layerId).decides.map(
      ({ decision, ruleId }): EvaluationReason => ({
        code: row.code,
        layerId,
        field: row.fields[0],
        value: shownValue(c, row.fields[0]),
        decision,
        ruleId,
        cure: row.cure ?? null,
      }),
    ),
  )
}

/** Each layer has its own figure, if any, so this is no line of the table. Indoors there is no wind. */
function windReasons(layer: Layer, c: Conditions): EvaluationReason[] {
  const { windMaxMph } = layer.parameters
  if (c.indoors || windMaxMph === null || c.windMph === null || c.windMph <= windMaxMph) return []
  return [
    {
      code: 'wind_over',
      layerId: layer.id,
      decision: 'forbidden_until_corrected',
      ruleId: layer.parameterRules.windMaxMph ?? null,
      field: 'windMph',
      value: c.windMph,
      cure: null,
    },
  ]
}

function watchRowReasons(
  rows: readonly WatchRow[],
  layerId: LayerId,
  need: Need,
): EvaluationReason[] {
  if (need === 'no') return []
  return rows.flatMap((row): EvaluationReason[] => {
    // Where a local ruleset wants a watch, the house blocks for want of one as under its own layer.
    const decides = row.decides[isLocal(layerId) ? COMPANY_LAYER_ID : layerId]
    if (!decides) return []
    const { ruleId } = decides
    const cure = row.cure ?? null
    return [
      {
        code: row.code,
        layerId,
        decision: decides[need],
        ruleId,
        field: row.fields[0],
        value: null,
        cure,
      },
    ]
  })
}

function asked(rows: readonly Row[], layerId: LayerId): PrecautionDue[] {
  return rows.flatMap((row) => spoken(row, layerId).asks)
}

function due(
  id: PrecautionId,
  rules: readonly (string | null)[],
  conditions: readonly ConditionField[],
) {
  return { id, rules: rules.filter((rule) => rule !== null), conditions }
}

/** The layer's minutes of watch after this work, and the rule that sets them. */
function watchMinutes({ parameters, parameterRules }: Layer, c: Conditions) {
  const { postWatchMin, torchRoofPostWatchMin } = parameters
  const isLonger =
    c.process === 'torch_roofing' &&
    torchRoofPostWatchMin !== null &&
    torchRoofPostWatchMin > (postWatchMin ?? 0)
  return isLonger
    ? { minutes: torchRoofPostWatchMin, ruleId: parameterRules.torchRoofPostWatchMin ?? null }
    : { minutes: postWatchMin, ruleId: parameterRules.postWatchMin ?? null }
}

/** When a permit may close at the earliest, in minutes after the torch was last out. */
function earliestClose(
  { parameters }: Layer,
  watchMin: number | null,
  { need, looksAfter, isFireSafe }: { need: Need; looksAfter: boolean; isFireSafe: boolean },
): number | null {
  if (isFireSafe && need === 'no') return 0
  const look = parameters.finalLookAtMin
  if (need === 'no') return largest([looksAfter ? parameters.finalCheckMin : 0, look])
  if (watchMin === null) return look
  return largest([watchMin + (parameters.monitoringMin ?? 0), look])
}

interface Active {
  rows: readonly Row[]
  watchRows: readonly WatchRow[]
  isFireSafe: boolean
}

function needOf(watchReasons: readonly WatchReason[]): Need {
  const needs = watchReasons.map((reason) => reason.need)
  if (needs.includes('yes')) return 'yes'
  return needs.includes('judgement') ? 'judgement' : 'no'
}

function layerPrecautions(
  layer: Layer,
  active: Active,
  watch: {
    need: Need
    reasons: readonly WatchReason[]
    ruleId: string | null
    looksAfter: boolean
  },
): PrecautionDue[] {
  const { reasons, ruleId, looksAfter } = watch
  const ofWatch =
    watch.need === 'no'
      ? []
      : [
          ...active.watchRows.flatMap((row) => asksOf(row, layer.id)),
          due(
            'fire-watch',
            [...reasons.map((reason) => reason.ruleId), ruleId],
            [...new Set(reasons.map((reason) => reason.field))],
          ),
        ]
  const finalCheckRule = layer.parameterRules.finalCheckMin ?? null
  const ofLayer = active.isFireSafe
    ? [due('designated-area-checks', [], ['areaClass'])]
    : (layer.precautions ?? []).map((id) => due(id, [], ['areaClass']))
  return mergePrecautions([
    ...asked(active.rows, layer.id),
    ...ofWatch,
    ...(looksAfter ? [due('final-check', [finalCheckRule], ['areaClass'])] : []),
    ...ofLayer,
  ])
}

function evaluateLayer(layer: Layer, c: Conditions, active: Active): LayerEvaluation {
  const { isFireSafe } = active
  const watchReasons = watchReasonsOf(active.rows, layer, c, isFireSafe)
  const need = needOf(watchReasons)
  const reasons = [
    ...decisionReasons(active.rows, layer.id, c),
    ...windReasons(layer, c),
    ...watchRowReasons(active.watchRows, layer.id, need),
  ]
  const base: Decision = isFireSafe ? 'allowed_without_job_permit' : 'allowed_with_precautions'
  const decision = strictestDecision([base, ...reasons.map((reason) => reason.decision)])
  const { parameters } = layer
  const looksAfter = need === 'no' && !isFireSafe && parameters.finalCheckMin !== null
  const isBlocked = isBlocking(decision)
  const watch = watchMinutes(layer, c)
  const minutes = need === 'no' || isBlocked ? null : watch.minutes
  return {
    layerId: layer.id,
    decision,
    required: isBlocked ? 'not_applicable' : need,
    postWatchMin: minutes,
    watchRuleId: watch.ruleId,
    closeEarliestMin: isBlocked
      ? null
      : earliestClose(layer, watch.minutes, { need, looksAfter, isFireSafe }),
    postWatchAfterSurveyMin: minutes !== null && parameters.surveyMayEndWatch ? 0 : minutes,
    finalLookAtMin: isBlocked || isFireSafe ? null : parameters.finalLookAtMin,
    statementRequired: !isBlocked && need !== 'no' && parameters.statementRequired,
    watchReasons,
    reasons,
    precautions: layerPrecautions(layer, active, {
      need,
      reasons: watchReasons,
      ruleId: watch.ruleId,
      looksAfter,
    }),
  }
}

/**
 * What the layers in force together require of these conditions: the strictest of all,
 * parameter by parameter, with the union of precautions and every reason kept.
 *
 * @param layers the site's rulesets and, where it has one, the company's own layer; at least one
 * @param conditions what the survey, the gas tests and the people named say
 * @returns decisions and minutes as data; `perLayer` holds each layer's own answer
 * @source the rules in `catalogue.ts`; checked against the published decision vectors in the test
 */
export function evaluate(layers: readonly Layer[], conditions: Conditions): Evaluation {
  const rows = ROWS.filter((row) => row.when(conditions))
  const isFireSafe =
    conditions.areaClass === 'designated' &&
    rows.every((row) => !row.watch && !row.decides && !row.house)
  const active: Active = {
    rows: isFireSafe ? rows : [...PERMIT_AREA_ROWS.filter((row) => row.when(conditions)), ...rows],
    watchRows: WATCH_ROWS.filter((row) => row.when(conditions)),
    isFireSafe,
  }
  const perLayer = layers.map((layer) => evaluateLayer(layer, conditions, active))
  const always = asked(active.rows, ALWAYS_LAYER_ID)
  return combine([...layers, ALWAYS_LAYER], perLayer, always)
}
