import { freezeDuties } from '@/lib/permit/duties'
import {
  type AreaFacts,
  type SurveyAnswer,
  type SurveyItemId,
  surveyItems,
} from '@/lib/permit/survey'
import { conditionsFrom, impairmentsFrom, type SurveyAnswers } from '@/lib/permit/survey-answers'
import type { FrozenDuties } from '@/lib/permit/types'
import type { Conditions } from '@/lib/rules/conditions'
import { evaluate, isBlocking } from '@/lib/rules/evaluate'
import { COMPANY_LAYER, rulesetsOn } from '@/lib/rules/layers'
import { resolveParameters } from '@/lib/rules/resolve'
import type { Evaluation, ResolvedParameters, RulesetId } from '@/lib/rules/types'
import type { Answered, Post } from './permit'

/** An ordinary clear area; a survey states what differs. */
const ORDINARY: Readonly<Record<SurveyItemId, SurveyAnswer>> = {
  since_last: { choice: 'nothing_seen' },
  burn_ban: { choice: 'none_today', what: 'County fire marshal’s page' },
  tap_crew: { choice: 'not_approved' },
  tap_plan: { choice: 'none' },
  tap_line: { choice: 'not_as_planned' },
  wind: { choice: 'measured', windMph: 6 },
  drop_zone: { choice: 'barred', what: 'Tape and a sign at every way in' },
  inside_piece: { choice: 'solid' },
  coating: { choice: 'bare' },
  far_side: { choice: 'nothing_burns' },
  openings: { choice: 'none' },
  floor: { choice: 'swept' },
  walls: { choice: 'do_not_burn' },
  burnables: { choice: 'none' },
  ducts: { choice: 'none' },
  stores: { choice: 'none' },
  sprinklers: { choice: 'valve_open' },
  detectors: { choice: 'none_near' },
  air: { choice: 'open_air' },
  cylinders: { choice: 'secured_away' },
  extinguisher: { choice: 'ready' },
  bystanders: { choice: 'nobody' },
  view: { choice: 'one_sees_all' },
  ship_space: { choice: 'not_tested' },
}

/** Answers of one walk, in walking order. */
export function surveyOf(facts: AreaFacts, differing: SurveyAnswers = {}): Answered[] {
  return surveyItems(facts).map(({ id }) => ({ item: id, answer: differing[id] ?? ORDINARY[id] }))
}

type Named = Readonly<{ id: string; name: string }>

export type Judged = Readonly<{
  conditions: Conditions
  people: Judging['people']
  evaluation: Evaluation
  parameters: ResolvedParameters
  duties: FrozenDuties
  impairments: readonly Readonly<{ id: string; label: string }>[]
  posts: readonly Post[]
}>

export type Judging = Readonly<{
  facts: AreaFacts
  areaClass: 'designated' | 'permit'
  rulesets: readonly RulesetId[]
  day: string
  answers: readonly Answered[]
  posts: readonly Post[]
  people: Readonly<Record<'operator' | 'pai' | 'fireWatch', Named>>
  monitoringMin?: number
}>

/** What the rules in force make of the answers; throws when they would forbid the work. */
export function judge(input: Judging): Judged {
  const answers = Object.fromEntries(
    input.answers.map(({ item, answer }) => [item, answer]),
  ) as SurveyAnswers
  const { operator, pai, fireWatch } = input.people
  const conditions = conditionsFrom({
    area: input.facts,
    areaClass: input.areaClass,
    answers,
    gasTests: [],
    process: 'oxyfuel_cutting',
    roles: { operator: operator.id, authoriser: pai.id, fireWatch: fireWatch.id },
    isFireWatchTrained: true,
  })
  const layers = rulesetsOn(input.rulesets, input.day)
  const evaluation = evaluate([...layers, COMPANY_LAYER], conditions)
  if (isBlocking(evaluation.decision)) {
    throw new Error(
      `the rules forbid it: ${JSON.stringify(evaluation.reasons.filter((why) => isBlocking(why.decision)))}`,
    )
  }
  const parameters = resolveParameters(layers, COMPANY_LAYER)
  const duties = freezeDuties({
    evaluation,
    parameters,
    isEnclosed: input.facts.enclosed || input.facts.confinedSpace,
    watchJudgement: 'yes',
    monitoringMin: input.monitoringMin ?? 0,
    posts: input.posts.map((post) => post.name),
  })
  const impairments = impairmentsFrom(input.facts, answers).map(({ item, what }) => ({
    id: item,
    label: what || item,
  }))
  return {
    conditions,
    people: input.people,
    evaluation,
    parameters,
    duties,
    impairments,
    posts: input.posts,
  }
}

/** What an `issued` event carries: the duties that the permit then owes, and why. */
export function issuedData(
  judged: Judged,
  until: Readonly<{ validUntilMs: number; lastCutByMs: number; paiArrivedMs: number }>,
): Record<string, unknown> {
  return {
    duties: judged.duties,
    watchRequired: judged.duties.watchMin > 0,
    watchJudgement: 'yes',
    validUntil: new Date(until.validUntilMs).toISOString(),
    lastCutBy: new Date(until.lastCutByMs).toISOString(),
    paiArrivedAt: new Date(until.paiArrivedMs).toISOString(),
    impairments: judged.impairments,
    posts: judged.posts,
    rulesets: judged.parameters.layers,
    parameters: judged.parameters,
    conditions: judged.conditions,
    evaluation: judged.evaluation,
    people: judged.people,
  }
}
