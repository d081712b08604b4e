import type { RuleId } from './catalogue'
import { RULES } from './catalogue'
import type { ConditionField, Conditions } from './conditions'
import { ALWAYS_LAYER } from './layers'
import type { Row, WatchRow } from './rows'
import { isTorchWork, PERMIT_AREA_ROWS, ROWS, WATCH_ROWS } from './rows'
import { combine, mergePrecautions } from './strictest'
import type {
  Decision,
  Evaluation,
  EvaluationReason,
  Layer,
  LayerEvaluation,
  LayerId,
  PrecautionDue,
  PrecautionId,
  WatchNeed,
} from './types'
import { ALWAYS_LAYER_ID, COMPANY_LAYER_ID, DECISION_ORDER } from './types'

type Need = 'yes' | 'judgement' | 'no'
type WatchReason = LayerEvaluation['watchReasons'][number]

const BLOCKING: ReadonlySet<Decision> = new Set(DECISION_ORDER.slice(0, 4))

/** True for the four decisions under which no work goes ahead. */
export function isBlocking(decision: Decision): boolean {
  return BLOCKING.has(decision)
}

const speaksFor = (ruleId: RuleId, layerId: LayerId) =>
  (RULES[ruleId].layers as readonly LayerId[]).includes(layerId)
const rulesOf = (rules: readonly RuleId[] | undefined, layerId: LayerId) =>
  (rules ?? []).filter((ruleId) => speaksFor(ruleId, layerId))

function strictestDecision(decisions: readonly Decision[]): Decision {
  return DECISION_ORDER.find((decision) => decisions.includes(decision)) ?? 'forbidden'
}

function shownValue(c: Conditions, field: ConditionField): EvaluationReason['value'] {
  const value = c[field]
  return typeof value === 'object' ? null : value
}

function watchReasonsOf(rows: readonly Row[], layerId: LayerId, c: Conditions): WatchReason[] {
  const fromRows = rows.flatMap((row) =>
    (['yes', 'judgement'] as const).flatMap((need): WatchReason[] => {
      const wanted = row.watch?.[need]
      if (!wanted) return []
      // The company watches wherever any text wants it or leaves it to judgement.
      if (layerId === COMPANY_LAYER_ID) return [{ ruleId: null, field: row.fields[0], need }]
      return rulesOf(wanted, layerId).map((ruleId) => ({ ruleId, field: row.fields[0], need }))
    }),
  )
  const afterTorch =
    layerId === COMPANY_LAYER_ID && c.areaClass !== 'designated' && isTorchWork(c.process)
  return afterTorch ? [...fromRows, { ruleId: null, field: 'process', need: 'yes' }] : fromRows
}

function decisionReasons(
  rows: readonly Row[],
  layerId: LayerId,
  c: Conditions,
): EvaluationReason[] {
  return rows.flatMap((row): EvaluationReason[] => {
    const common = {
      code: row.code,
      layerId,
      field: row.fields[0],
      value: shownValue(c, row.fields[0]),
    }
    const cure = row.cure ?? null
    const published = DECISION_ORDER.flatMap((decision) =>
      rulesOf(row.decides?.[decision], layerId).map((ruleId) => ({
        ...common,
        decision,
        ruleId,
        cure,
      })),
    )
    const house = row.house?.[layerId]
    if (published.length > 0 || !house) return published
    return [{ ...common, decision: house, ruleId: null, cure }]
  })
}

function watchRowReasons(
  rows: readonly WatchRow[],
  layerId: LayerId,
  need: Need,
): EvaluationReason[] {
  if (need === 'no') return []
  return rows.flatMap((row): EvaluationReason[] => {
    const decides = row.decides[layerId]
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

function asked(rows: readonly (Row | WatchRow)[], layerId: LayerId): PrecautionDue[] {
  return rows.flatMap((row) =>
    (row.asks ?? []).flatMap(([id, rules]) => {
      const own = rulesOf(rules, layerId)
      return own.length > 0 ? [{ id, rules: own, conditions: row.fields }] : []
    }),
  )
}

function due(
  id: PrecautionId,
  rules: readonly (string | null)[],
  conditions: readonly ConditionField[],
) {
  return { id, rules: rules.filter((rule) => rule !== null), conditions }
}

interface Active {
  rows: readonly Row[]
  watchRows: readonly WatchRow[]
  isFireSafe: boolean
}

function evaluateLayer(layer: Layer, c: Conditions, active: Active): LayerEvaluation {
  const watchReasons = watchReasonsOf(active.rows, layer.id, c)
  const needs = watchReasons.map((reason) => reason.need)
  const need: Need = needs.includes('yes')
    ? 'yes'
    : needs.includes('judgement')
      ? 'judgement'
      : 'no'
  const reasons = [
    ...decisionReasons(active.rows, layer.id, c),
    ...watchRowReasons(active.watchRows, layer.id, need),
  ]
  const base: Decision = active.isFireSafe
    ? 'allowed_without_job_permit'
    : 'allowed_with_precautions'
  const decision = strictestDecision([base, ...reasons.map((reason) => reason.decision)])
  const { parameters, parameterRules } = layer
  const looksAfter = need === 'no' && !active.isFireSafe && parameters.finalCheckMin !== null
  const isBlocked = isBlocking(decision)
  const minutes = need === 'no' ? null : parameters.postWatchMin

  const precautions = mergePrecautions([
    ...asked(active.rows, layer.id),
    ...(need === 'no' ? [] : asked(active.watchRows, layer.id)),
    ...(need === 'no'
      ? []
      : [
          due(
            'fire-watch',
            [...watchReasons.map((r) => r.ruleId), parameterRules.postWatchMin ?? null],
            [...new Set(watchReasons.map((r) => r.field))],
          ),
        ]),
    ...(looksAfter
      ? [due('final-check', [parameterRules.finalCheckMin ?? null], ['areaClass'])]
      : []),
    ...(active.isFireSafe ? [due('designated-area-checks', [], ['areaClass'])] : []),
  ])
  const close =
    need === 'no' ? (looksAfter ? parameters.finalCheckMin : 0) : parameters.postWatchMin
  const required: WatchNeed = isBlocked ? 'not_applicable' : need
  return {
    layerId: layer.id,
    decision,
    required,
    postWatchMin: isBlocked ? null : minutes,
    closeEarliestMin: isBlocked ? null : close,
    statementRequired: !isBlocked && need !== 'no' && parameters.statementRequired,
    watchReasons,
    reasons,
    precautions,
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
