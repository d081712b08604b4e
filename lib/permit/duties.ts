import type { Evaluation, Resolved, ResolvedParameters } from '../rules/types'
import type { FrozenDuties } from './types'

export interface DutiesInput {
  evaluation: Evaluation
  parameters: ResolvedParameters
  isEnclosed: boolean
  watchJudgement: 'yes' | 'no' | null
  /** Monitoring after the watch that the PAI asks for. */
  monitoringMin: number
  /** What each round visits. */
  posts: readonly string[]
}

const firstRule = ({ setBy }: Resolved<unknown>) =>
  setBy.find((one) => one.ruleId !== null)?.ruleId ?? null

/** The rule behind the minutes of the watch; null where the company's own number is the longest. */
const watchRule = ({ perLayer, postWatchMin }: Evaluation) =>
  perLayer.find((layer) => layer.postWatchMin === postWatchMin && layer.watchRuleId !== null)
    ?.watchRuleId ?? null

/** What a survey after the work leaves of the watch; null where no layer lets it count. */
function shortWatchMin({ evaluation, parameters }: DutiesInput): number | null {
  const { value } = parameters.watchAfterSurveyMin
  return value === null ? null : Math.max(value, evaluation.postWatchAfterSurveyMin ?? 0)
}

/** Unanswered or n/a counts as yes: the permit is not issued then, but nothing shows less. */
function isWatchRequired({ evaluation, watchJudgement }: DutiesInput): boolean {
  if (evaluation.required === 'no') return false
  return !(evaluation.required === 'judgement' && watchJudgement === 'no')
}

/**
 * The duties after work as plain numbers, to be stored with the permit when it is issued.
 * No later change of a ruleset or of the company's layer lowers them.
 */
export function freezeDuties(input: DutiesInput): FrozenDuties {
  const { evaluation, parameters, isEnclosed } = input
  const watchRequired = isWatchRequired(input)
  // The strictest of all layers holds, parameter by parameter, whichever of them wants the watch.
  const watchMin = watchRequired
    ? Math.max(evaluation.postWatchMin ?? 0, parameters.watchMin.value)
    : 0
  const monitoringMin = Math.max(input.monitoringMin, parameters.monitoringMin.value)
  const lookAtMin = Math.max(parameters.finalLookAtMin.value, evaluation.finalCheckMin ?? 0)
  const shortMin = watchRequired ? shortWatchMin(input) : null
  const isGasAskedFor = evaluation.precautions.some(
    (precaution) => precaution.id === 'gas-test-before' || precaution.id === 'gas-test-during',
  )
  return {
    watchRequired,
    watchMin,
    roundIntervalMin: parameters.roundIntervalMin.value,
    monitoringMin,
    finalLookMin: watchRequired
      ? Math.max(watchMin + monitoringMin, lookAtMin)
      : Math.max(
          evaluation.finalCheckMin ?? parameters.finalCheckMin.value,
          monitoringMin,
          lookAtMin,
        ),
    monitoringCheckEveryMin: parameters.monitoringCheckEveryMin.value,
    watchMinAfterSurvey: shortMin,
    finalLookMinAfterSurvey:
      shortMin === null ? null : Math.max(shortMin + monitoringMin, lookAtMin),
    statementRequired: evaluation.statementRequired && watchRequired,
    gasTestValidMin: parameters.gasTestValidMin.value,
    gasTestNeeded: isGasAskedFor || isEnclosed || parameters.gasTestBeforeEveryPermit.value,
    gasTestContinuous: isEnclosed && parameters.gasTestContinuousWhenEnclosed.value,
    oxygenMinPct: (isEnclosed ? parameters.enclosedOxygenMinPct : parameters.oxygenMinPct).value,
    oxygenMaxPct: (isEnclosed ? parameters.enclosedOxygenMaxPct : parameters.oxygenMaxPct).value,
    oxygenStopAtPct: parameters.oxygenStopAtPct.value,
    lelMaxPct: (isEnclosed ? parameters.enclosedLelMaxPct : parameters.lelMaxPct).value,
    lelStopAtPct: parameters.lelStopAtPct.value,
    coMaxPpm: parameters.coMaxPpm.value,
    h2sMaxPpm: parameters.h2sMaxPpm.value,
    breakLimitMin: parameters.breakLimitMin.value,
    capHours: parameters.capHours.value,
    paiOnSiteWithinMin: parameters.paiOnSiteWithinMin.value,
    resumeNeedsPai: true,
    reinspectEveryHours: parameters.reinspectEveryHours.value,
    reinspectEachShift: parameters.reinspectEachShift.value,
    gearCheckEachShift: parameters.gearCheckEachShift.value,
    gasOffAfterIdleMin: parameters.gasOffAfterIdleMin.value,
    windMaxMph: parameters.windMaxMph.value,
    posts: input.posts,
    layers: parameters.layers,
    rules: {
      watch: watchRule(evaluation) ?? firstRule(parameters.watchMin),
      finalLook:
        parameters.finalLookAtMin.value > 0 &&
        parameters.finalLookAtMin.value >= watchMin + monitoringMin
          ? firstRule(parameters.finalLookAtMin)
          : firstRule(parameters.finalCheckMin),
      monitoring:
        parameters.monitoringMin.value > 0
          ? firstRule(parameters.monitoringMin)
          : firstRule(parameters.monitoringMaxMin),
      statement: firstRule(parameters.statementRequired),
      cap: firstRule(parameters.capHours),
    },
  }
}
