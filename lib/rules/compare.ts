import { isBlocking } from './evaluate'
import type { Evaluation } from './types'
import { DECISION_ORDER } from './types'

const NEEDS = ['not_applicable', 'yes', 'judgement', 'no'] as const
const MINUTES = [
  'postWatchMin',
  'closeEarliestMin',
  'finalCheckMin',
  'finalLookAtMin',
  'postWatchAfterSurveyMin',
] as const

function loosenedDuties(less: Evaluation, more: Evaluation): string[] {
  return [
    ...MINUTES.filter((name) => (more[name] ?? 0) < (less[name] ?? 0)),
    ...(more.monitoringMin < less.monitoringMin ? ['monitoringMin'] : []),
    ...((more.capHours ?? Infinity) > (less.capHours ?? Infinity) ? ['capHours'] : []),
    ...((more.roundIntervalMin ?? Infinity) > (less.roundIntervalMin ?? Infinity)
      ? ['roundIntervalMin']
      : []),
    ...(less.statementRequired && !more.statementRequired ? ['statementRequired'] : []),
  ]
}

/**
 * In what one answer is looser than another: the names of decision, watch and duties, and the ids
 * of precautions that are gone. Empty when nothing is. Where work is blocked no minutes are owed.
 */
export function loosened(less: Evaluation, more: Evaluation): string[] {
  const asked = new Set(more.precautions.map((one) => one.id))
  return [
    ...(DECISION_ORDER.indexOf(more.decision) > DECISION_ORDER.indexOf(less.decision)
      ? ['decision']
      : []),
    ...(NEEDS.indexOf(more.required) > NEEDS.indexOf(less.required) ? ['required'] : []),
    ...less.precautions.map((one) => one.id).filter((id) => !asked.has(id)),
    ...(isBlocking(more.decision) ? [] : loosenedDuties(less, more)),
  ]
}
