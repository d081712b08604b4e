import { isBlocking } from '../rules/evaluate'
import type { Evaluation } from '../rules/types'
import { gasTestReasons } from './gas-test'
import { minutesBetween, personReasons, reason, verdict } from './reasons'
import { gearDueReasons, lookDueReasons } from './shift'
import type { SurveyPlace } from './survey'
import type { SurveyAnswers } from './survey-answers'
import { surveyReasons } from './survey-answers'
import type {
  Issuing,
  PermitFacts,
  PermitState,
  PersonFact,
  Reason,
  SignatureFact,
  Verdict,
} from './types'

const MS_PER_HOUR = 3_600_000

/** Why an act that belongs to some states is refused in this one. */
export function stateReasons(state: PermitState, allowed: readonly PermitState[]): Reason[] {
  return allowed.includes(state) ? [] : [reason('wrong_state', { state })]
}

/** Every condition for which the rules refuse the work, with the rule and what would cure it. */
export function ruleReasons(evaluation: Evaluation): Reason[] {
  return evaluation.reasons
    .filter((one) => isBlocking(one.decision))
    .map((one) =>
      reason(
        'rules_refuse',
        { why: one.code, decision: one.decision, layer: one.layerId, cure: one.cure ?? '' },
        one.ruleId,
      ),
    )
}

export interface ClearInput {
  facts: Pick<PermitFacts, 'state'>
  area: SurveyPlace
  answers: SurveyAnswers
  evaluation: Evaluation
}

/** May the area be called cleared: every item answered, nothing blocked, no rule against it. */
export function mayClear(input: ClearInput): Verdict {
  return verdict([
    ...stateReasons(input.facts.state, ['preparing']),
    ...surveyReasons(input.area, input.answers),
    ...ruleReasons(input.evaluation),
  ])
}

const signatureOf = (facts: PermitFacts, act: SignatureFact['act']) =>
  facts.signatures.filter((one) => one.act === act).at(-1)

function signerReasons(
  facts: PermitFacts,
  act: 'agree' | 'acknowledge',
  personId: string | null,
): Reason[] {
  const signed = signatureOf(facts, act)
  if (!signed)
    return [
      reason(facts.voidedActs?.includes(act) ? 'signature_voided' : 'signature_missing', { act }),
    ]
  return signed.personId === personId ? [] : [reason('signature_by_other', { act })]
}

/** Where an entry permit is linked its supervisor signs after the watch, qualified that day (29 CFR 1926.1205, 1206(p)). */
function entrySupervisorReasons(facts: PermitFacts, { people, day }: Issuing): Reason[] {
  if (!facts.linked?.entry) return []
  const signed = signatureOf(facts, 'enter')
  if (!signed) {
    const isVoided = facts.voidedActs?.includes('enter')
    return [reason(isVoided ? 'signature_voided' : 'signature_missing', { act: 'enter' })]
  }
  const after = signatureOf(facts, 'acknowledge') ?? signatureOf(facts, 'agree')
  const isEarly = after !== undefined && signed.signedAt.getTime() < after.signedAt.getTime()
  return [
    ...personReasons(
      people.find((person) => person.id === signed.personId),
      'entry_supervisor',
      day,
    ),
    ...(isEarly ? [reason('signature_order')] : []),
  ]
}

function orderReasons(facts: PermitFacts, now: Date): Reason[] {
  const agree = signatureOf(facts, 'agree')
  const acknowledge = signatureOf(facts, 'acknowledge')
  const isWatchFirst =
    agree && acknowledge && acknowledge.signedAt.getTime() < agree.signedAt.getTime()
  const isFuture = [agree, acknowledge].some((one) => one && one.signedAt.getTime() > now.getTime())
  return isWatchFirst || isFuture ? [reason('signature_order')] : []
}

/** Operator, watch and PAI are different people (NFPA 51B; the company asks it of every permit). */
function distinctReasons(
  roles: readonly (readonly [role: string, id: string | null])[],
  people: readonly PersonFact[],
) {
  const nameOf = (id: string) => people.find((person) => person.id === id)?.name ?? ''
  return roles.flatMap(([first, id], index) =>
    roles.slice(index + 1).flatMap(([second, other]) => {
      if (id === null || id !== other) return []
      const ruleId =
        second === 'pai' && first === 'operator'
          ? 'nfpa51b-pai-not-operator'
          : 'nfpa51b-operator-not-firewatch'
      // The texts leave the PAI standing watch open; there it is the company's own rule.
      const isHouse = first === 'fire_watch'
      return [reason('same_person', { person: nameOf(id), first, second }, isHouse ? null : ruleId)]
    }),
  )
}

const LONE_RULE = 'nfpa51b-sole-proprietor'

/** A lone operator works with the client's person, who was told what everyone is told, watches and authorises. */
function loneReasons({ lone, fireWatchId }: PermitFacts, { paiId }: Issuing): Reason[] {
  if (!lone) return []
  const params = { client: lone.client }
  return [
    ...(lone.isAllowed ? [] : [reason('lone_not_allowed', params, LONE_RULE)]),
    ...(paiId === fireWatchId ? [] : [reason('lone_other_signer', params, LONE_RULE)]),
    ...(lone.isBriefed ? [] : [reason('lone_not_briefed', params, LONE_RULE)]),
  ]
}

function watchReasons(
  { evaluation, watchJudgement, duties }: Issuing,
  facts: PermitFacts,
): Reason[] {
  const isOpen = evaluation.required === 'judgement' && watchJudgement === null
  const isUnnamed = duties.watchRequired && facts.fireWatchId === null
  return [
    ...(isOpen ? [reason('watch_judgement_open')] : []),
    ...(isUnnamed ? [reason('watch_not_named', {}, 'osha1910-fw-duties')] : []),
  ]
}

function presenceReasons({ paiArrivedAt, duties }: Issuing, now: Date): Reason[] {
  const withinMin = duties.paiOnSiteWithinMin
  if (paiArrivedAt === null || paiArrivedAt.getTime() > now.getTime())
    return [reason('pai_arrival_unknown', { withinMin })]
  const agoMin = minutesBetween(paiArrivedAt, now)
  return agoMin > withinMin ? [reason('pai_not_on_site', { agoMin, withinMin })] : []
}

/** The cap is elapsed time from the issue, whatever the clock on the wall does meanwhile. */
function validityReasons({ validUntil, duties }: Issuing, now: Date): Reason[] {
  const { capHours } = duties
  const isOver = validUntil.getTime() > now.getTime() + capHours * MS_PER_HOUR
  return [
    ...(validUntil.getTime() <= now.getTime()
      ? [reason('valid_until_past', { whenAt: validUntil.getTime() })]
      : []),
    ...(isOver ? [reason('valid_until_over_cap', { capHours }, duties.rules.cap)] : []),
  ]
}

/** Where the rules ask for an entry permit, as in every confined space, none means no. */
function entryPermitReasons({ linked }: PermitFacts, { evaluation }: Issuing): Reason[] {
  const asked = evaluation.precautions.find((one) => one.id === 'entry-permit')
  if (!asked || (linked?.entry ?? null) !== null) return []
  return [reason('entry_permit_missing', {}, asked.rules[0])]
}

/** The host's own permit and the entry permit cap ours. */
function linkedReasons({ linked }: PermitFacts, { validUntil }: Issuing): Reason[] {
  return (['host', 'entry'] as const).flatMap((which) => {
    const other = linked?.[which] ?? null
    return other !== null && validUntil.getTime() > other.until.getTime()
      ? [
          reason(`valid_until_over_${which}`, {
            number: other.number,
            untilAt: other.until.getTime(),
          }),
        ]
      : []
  })
}

/**
 * Whether a site lets the PAI stand the fire watch: it says so itself, since NFPA 51B does not bar it (from memory, low
 * confidence), and never where the fire watch has no other duties (29 CFR 1915.504(c)(1)).
 */
export const paiMayWatch = (isSet: boolean, rulesetIds: readonly string[]): boolean =>
  isSet && !rulesetIds.includes('us-osha-1915')

/** Who must be somebody else than who: all three, unless the watch may be who authorises. */
function rolesApart(
  { operatorId, fireWatchId, lone, isPaiWatchAllowed }: PermitFacts,
  paiId: string,
) {
  const [operator, pai] = [['operator', operatorId] as const, ['pai', paiId] as const]
  const isOne = paiId === fireWatchId && (lone || isPaiWatchAllowed)
  return isOne ? [operator, pai] : [operator, ['fire_watch', fireWatchId] as const, pai]
}

function peopleReasons(facts: PermitFacts, issuing: Issuing): Reason[] {
  const { people, day, paiId, busy } = issuing
  const find = (id: string | null) => people.find((person) => person.id === id)
  const named = [facts.operatorId, facts.fireWatchId].filter((id) => id !== null)
  const elsewhere = busy
    .filter((one) => named.includes(one.personId))
    .map((one) =>
      reason('person_busy', {
        person: find(one.personId)?.name ?? '',
        role: one.role,
        area: one.areaLabel,
      }),
    )
  return [
    ...(facts.operatorId === null
      ? [reason('operator_not_named')]
      : personReasons(find(facts.operatorId), 'torch_operator', day)),
    ...(facts.fireWatchId === null
      ? []
      : personReasons(find(facts.fireWatchId), 'fire_watch', day)),
    ...personReasons(find(paiId), 'pai', day),
    ...distinctReasons(rolesApart(facts, paiId), people),
    ...elsewhere,
  ]
}

function outfitReasons({ outfit }: Issuing): Reason[] {
  if (outfit === null) return [reason('outfit_missing')]
  return outfit.isInService ? [] : [reason('outfit_out_of_service', { outfit: outfit.label })]
}

/**
 * May the PAI issue this permit now: the operator has agreed, then the watch acknowledged, all
 * three are different, qualified and free, the outfit serves, the air is good, no rule forbids it,
 * and its end lies within the cap. The PAI's own signature is this act, so it comes last.
 */
export function mayIssue(facts: PermitFacts, issuing: Issuing, now: Date): Verdict {
  const isWatchNamed = facts.fireWatchId !== null
  const { lastLookAt, shiftStartsAt = [] } = facts
  return verdict([
    ...stateReasons(facts.state, ['cleared']),
    // Nothing takes such a press back: the permit is withdrawn and another one walked.
    facts.stopPressedAt === null
      ? null
      : reason('stopped_before_issue', { whenAt: facts.stopPressedAt.getTime() }),
    ...ruleReasons(issuing.evaluation),
    ...watchReasons(issuing, facts),
    ...peopleReasons(facts, issuing),
    ...loneReasons(facts, issuing),
    ...signerReasons(facts, 'agree', facts.operatorId),
    ...(isWatchNamed ? signerReasons(facts, 'acknowledge', facts.fireWatchId) : []),
    ...entrySupervisorReasons(facts, issuing),
    ...orderReasons(facts, now),
    ...outfitReasons(issuing),
    ...gasTestReasons(facts.gasTests, issuing.duties, now),
    ...(lastLookAt ? lookDueReasons(issuing.duties, lastLookAt, { shiftStartsAt, now }) : []),
    ...gearDueReasons(issuing.duties, facts, now),
    ...presenceReasons(issuing, now),
    ...validityReasons(issuing, now),
    ...entryPermitReasons(facts, issuing),
    ...linkedReasons(facts, issuing),
  ])
}

/** Only a permit under which nobody may have worked can be withdrawn. */
export function mayWithdraw(facts: Pick<PermitFacts, 'state'>): Verdict {
  return verdict(stateReasons(facts.state, ['preparing', 'cleared']))
}
