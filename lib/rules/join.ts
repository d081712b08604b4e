import { combine, largest, mergePrecautions } from './strictest'
import type { Evaluation, EvaluationReason, Layer, LayerEvaluation, WatchNeed } from './types'
import { DECISION_ORDER } from './types'

const NEED_ORDER: readonly WatchNeed[] = ['not_applicable', 'yes', 'judgement', 'no']

const keyOf = ({ code, decision, layerId, ruleId }: EvaluationReason) =>
  [code, decision, layerId, ruleId].join(' ')

function unique<T>(all: readonly T[], key: (one: T) => string): T[] {
  return [...new Map(all.map((one) => [key(one), one] as const)).values()]
}

const firstIn = <T>(order: readonly T[], values: readonly T[]) =>
  order.find((value) => values.includes(value)) as T

/** One layer's answers to several sets of conditions that hold at once: the strictest of each. */
function joinLayer(same: readonly [LayerEvaluation, ...LayerEvaluation[]]): LayerEvaluation {
  const [first] = same
  const decision = firstIn(
    DECISION_ORDER,
    same.map((one) => one.decision),
  )
  const required = firstIn(
    NEED_ORDER,
    same.map((one) => one.required),
  )
  const isBlocked = required === 'not_applicable'
  const most = (name: 'postWatchMin' | 'closeEarliestMin' | 'finalLookAtMin') =>
    isBlocked ? null : largest(same.map((one) => one[name]))
  const postWatchMin = most('postWatchMin')
  return {
    ...first,
    decision,
    required,
    postWatchMin,
    closeEarliestMin: most('closeEarliestMin'),
    finalLookAtMin: most('finalLookAtMin'),
    postWatchAfterSurveyMin: isBlocked
      ? null
      : largest(same.map((one) => one.postWatchAfterSurveyMin)),
    watchRuleId: same.find((one) => one.postWatchMin === postWatchMin)?.watchRuleId ?? null,
    statementRequired: !isBlocked && same.some((one) => one.statementRequired),
    watchReasons: unique(
      same.flatMap((one) => one.watchReasons),
      ({ ruleId, field, need }) => [ruleId, field, need].join(' '),
    ),
    reasons: unique(
      same.flatMap((one) => one.reasons),
      keyOf,
    ),
    precautions: mergePrecautions(same.flatMap((one) => one.precautions)),
  }
}

/**
 * What the layers ask where several things hold side by side: a stack of pallets here, a doorway
 * there. Each was evaluated by itself; the strictest holds, precautions add up, every reason is kept.
 *
 * @param layers those by which all of the evaluations were made
 * @param evaluations at least one; the first is what the answers alone say
 */
export function joinEvaluations(
  layers: readonly Layer[],
  evaluations: readonly [Evaluation, ...Evaluation[]],
): Evaluation {
  const [only] = evaluations
  if (evaluations.length === 1) return only
  const perLayer = layers.flatMap((layer) => {
    const same = evaluations.flatMap((one) =>
      one.perLayer.filter(({ layerId }) => layerId === layer.id),
    )
    const [first, ...rest] = same
    return first ? [joinLayer([first, ...rest])] : []
  })
  const joined = combine(
    layers,
    perLayer,
    mergePrecautions(evaluations.flatMap((one) => one.precautions)),
  )
  const isBlocked = joined.required === 'not_applicable'
  // Numbers that a layer held in force everywhere gives are not among `layers`; take each answer's own.
  return {
    ...joined,
    finalCheckMin: isBlocked ? null : largest(evaluations.map((one) => one.finalCheckMin)),
    monitoringMin: Math.max(...evaluations.map((one) => one.monitoringMin)),
    monitoringMaxMin: largest(evaluations.map((one) => one.monitoringMaxMin)),
    capHours: only.capHours,
    roundIntervalMin: only.roundIntervalMin,
  }
}
