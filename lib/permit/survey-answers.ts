import type { AreaClass, Conditions, WallKind } from '../rules/conditions'
import { DEFAULT_CONDITIONS } from '../rules/conditions'
import { reason } from './reasons'
import type { AreaFacts, SurveyAnswer, SurveyItem, SurveyItemId, SurveyPlace } from './survey'
import { choiceOf, missingDetails, surveyItems } from './survey'
import type { GasTestFact, PermitFacts, Reason } from './types'

export type SurveyAnswers = Readonly<Partial<Record<SurveyItemId, SurveyAnswer>>>

const AREA_CLASSES: Readonly<Record<'designated' | 'permit' | 'not_permitted', AreaClass>> = {
  designated: 'designated',
  permit: 'permit_required',
  not_permitted: 'non_permissible',
}
export type StoredAreaClass = keyof typeof AREA_CLASSES

const WALLS_STRICTEST_FIRST: readonly WallKind[] = [
  'sandwich_panel',
  'metal_combustible_covering',
  'combustible',
  'metal',
  'noncombustible',
]

export interface SurveyInput {
  area: AreaFacts
  areaClass: StoredAreaClass
  answers: SurveyAnswers
  gasTests: readonly GasTestFact[]
  process: Conditions['process']
  roles: Conditions['roles']
  isFireWatchTrained: boolean
  loneOperator?: boolean
  /** What was said of the site since the walk and counts here; absent indoors. */
  weather?: PermitFacts['weather']
}

/**
 * What the survey says, as the conditions that rules ask about. An item nobody answered leaves the
 * area's standing fact or the ordinary condition; whether all are answered is `surveyProgress`.
 */
export function conditionsFrom(input: SurveyInput): Conditions {
  const { area } = input
  const standing: Partial<Conditions> = {
    process: input.process,
    indoors: area.indoors,
    enclosed: area.enclosed || area.confinedSpace,
    confinedSpace: area.confinedSpace,
    areaClass: AREA_CLASSES[input.areaClass],
    areaAuthorized: input.areaClass !== 'not_permitted',
    sprinklerSystem: area.sprinklers ? 'in_service' : 'none',
    floor: area.floor,
    wall: area.wall,
    heightFt: area.levelFt,
    shipyardSpace: area.shipyardSpace ?? 'none',
    roles: input.roles,
    fireWatchTrained: input.isFireWatchTrained,
    loneOperator: input.loneOperator ?? false,
  }
  const answered = surveyItems({ ...area, process: input.process }).map(
    (item): Partial<Conditions> => {
      const answer = input.answers[item.id]
      return answer ? (choiceOf(item, answer)?.sets(answer) ?? {}) : {}
    },
  )
  const last = input.gasTests.toSorted((a, b) => a.takenAt.getTime() - b.takenAt.getTime()).at(-1)
  const air = last ? { oxygenPercent: last.oxygenPct, lflPercent: last.lelPct } : {}
  const said: Conditions = Object.assign({}, DEFAULT_CONDITIONS, standing, ...answered, air)
  // A standing fact is confirmed or made stricter on the spot, never talked away.
  const walls = [area.wall, said.wall]
  return {
    ...said,
    burnBan: said.burnBan || (input.weather?.isBanned ?? false),
    windMph: input.weather?.windMph ?? said.windMph,
    floor: area.floor === 'combustible' ? area.floor : said.floor,
    wall: WALLS_STRICTEST_FIRST.find((kind) => walls.includes(kind)) ?? said.wall,
  }
}

export interface SurveyProgress {
  total: number
  answered: number
  left: number
  next: SurveyItemId | null
  blocked: readonly SurveyItemId[]
}

const isAnswered = (item: SurveyItem, answer: SurveyAnswer | undefined) =>
  answer !== undefined &&
  choiceOf(item, answer) !== null &&
  missingDetails(item, answer).length === 0

/** How far the walk has come: an answer that still owes a detail is not an answer. */
export function surveyProgress(area: SurveyPlace, answers: SurveyAnswers): SurveyProgress {
  const items = surveyItems(area)
  const open = items.filter((item) => !isAnswered(item, answers[item.id]))
  const blocked = items.filter((item) => {
    const answer = answers[item.id]
    return answer !== undefined && choiceOf(item, answer)?.mark === 'blocked'
  })
  return {
    total: items.length,
    answered: items.length - open.length,
    left: open.length,
    next: open[0]?.id ?? null,
    blocked: blocked.map((item) => item.id),
  }
}

/** Why this one answer already stops the job, said the moment it is given; empty where it does not. */
export function answerReasons(item: SurveyItem, answer: SurveyAnswer): Reason[] {
  const choice = choiceOf(item, answer)
  return choice?.mark === 'blocked'
    ? [reason('survey_blocked', { item: item.id, choice: choice.id })]
    : []
}

export function surveyReasons(area: SurveyPlace, answers: SurveyAnswers): Reason[] {
  const { left } = surveyProgress(area, answers)
  const blocked = surveyItems(area).flatMap((item) => {
    const answer = answers[item.id]
    return answer ? answerReasons(item, answer) : []
  })
  return [...(left > 0 ? [reason('survey_unanswered', { count: left })] : []), ...blocked]
}

/** What the answers disabled, to be put back before the permit closes. */
export function impairmentsFrom(
  area: SurveyPlace,
  answers: SurveyAnswers,
): { item: SurveyItemId; what: string }[] {
  return surveyItems(area).flatMap((item) => {
    const answer = answers[item.id]
    if (!answer || !choiceOf(item, answer)?.impairs) return []
    return [{ item: item.id, what: answer.what ?? '' }]
  })
}
