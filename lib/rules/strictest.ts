import type {
  Evaluation,
  Layer,
  LayerEvaluation,
  LayerParameters,
  PrecautionDue,
  WatchNeed,
} from './types'
import { DECISION_ORDER } from './types'

const NEED_ORDER: readonly WatchNeed[] = ['not_applicable', 'yes', 'judgement', 'no']

/** The largest of the numbers that are given; null where none is. */
export function largest(values: readonly (number | null)[]): number | null {
  const given = values.filter((value) => value !== null)
  return given.length > 0 ? Math.max(...given) : null
}

/** The smallest of the numbers that are given; null where none is. */
export function smallest(values: readonly (number | null)[]): number | null {
  const given = values.filter((value) => value !== null)
  return given.length > 0 ? Math.min(...given) : null
}

/** One entry a precaution, with every rule and condition that asked for it. */
export function mergePrecautions(all: readonly PrecautionDue[]): PrecautionDue[] {
  const ids = [...new Set(all.map((precaution) => precaution.id))]
  return ids.map((id) => {
    const same = all.filter((precaution) => precaution.id === id)
    return {
      id,
      rules: [...new Set(same.flatMap((precaution) => precaution.rules))],
      conditions: [...new Set(same.flatMap((precaution) => precaution.conditions))],
    }
  })
}

const strictestOf = <T>(order: readonly T[], values: readonly T[], whenEmpty: T): T =>
  order.find((value) => values.includes(value)) ?? whenEmpty

/**
 * The strictest answer of several layers: forbidden beats allowed, yes beats judgement beats no,
 * the longest minutes win, precautions add up. Where any layer blocks there is no watch to time.
 */
export function combine(
  layers: readonly Layer[],
  perLayer: readonly LayerEvaluation[],
  always: readonly PrecautionDue[],
): Evaluation {
  const decision = strictestOf(
    DECISION_ORDER,
    perLayer.map((layer) => layer.decision),
    'forbidden',
  )
  const required = strictestOf(
    NEED_ORDER,
    perLayer.map((layer) => layer.required),
    'not_applicable',
  )
  const isBlocked = required === 'not_applicable'
  const given = (name: keyof LayerParameters) =>
    layers.map((layer) => layer.parameters[name]).filter((value) => typeof value === 'number')
  const precautions = mergePrecautions([
    ...perLayer.flatMap((layer) => layer.precautions),
    ...always,
  ])
  const looksAfter = precautions.some((precaution) => precaution.id === 'final-check')
  return {
    decision,
    required,
    postWatchMin: isBlocked ? null : largest(perLayer.map((layer) => layer.postWatchMin)),
    closeEarliestMin: isBlocked ? null : largest(perLayer.map((layer) => layer.closeEarliestMin)),
    finalCheckMin: !isBlocked && looksAfter ? largest(given('finalCheckMin')) : null,
    monitoringMin: largest(given('monitoringMin')) ?? 0,
    monitoringMaxMin: largest(given('monitoringMaxMin')),
    finalLookAtMin: isBlocked ? null : largest(perLayer.map((layer) => layer.finalLookAtMin)),
    postWatchAfterSurveyMin: isBlocked
      ? null
      : largest(perLayer.map((layer) => layer.postWatchAfterSurveyMin)),
    statementRequired: !isBlocked && perLayer.some((layer) => layer.statementRequired),
    capHours: smallest(given('capHours')),
    roundIntervalMin: smallest(given('roundIntervalMin')),
    precautions,
    reasons: perLayer.flatMap((layer) => layer.reasons),
    perLayer,
  }
}
