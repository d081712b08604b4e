import { stateReasons } from './issue'
import { isPresenceProven, scanReasons } from './post-codes'
import { addMinutes, minutesBetween, reason, verdict } from './reasons'
import type { PermitFacts, Reason, RoundFact, Verdict, WatchProgress } from './types'
import { watchProgress } from './watch'

const MS_PER_MIN = 60_000

/** The minutes owed as they stand: a survey after the torch went out may have ended a part of them. */
export function minutesOwed(facts: PermitFacts): { watchMin: number; finalLookMin: number } {
  const { duties, surveyedAt, torchOutAt } = facts
  if (duties === null) return { watchMin: 0, finalLookMin: 0 }
  const isSurveyed =
    surveyedAt != null && torchOutAt !== null && surveyedAt.getTime() >= torchOutAt.getTime()
  return {
    watchMin: (isSurveyed ? duties.watchMinAfterSurvey : null) ?? duties.watchMin,
    finalLookMin: (isSurveyed ? duties.finalLookMinAfterSurvey : null) ?? duties.finalLookMin,
  }
}

/** The watch of this permit as it stands; null before the torch was ever out. */
export function permitWatch(facts: PermitFacts, now: Date): WatchProgress | null {
  const { torchOutAt, duties } = facts
  if (torchOutAt === null || duties === null) return null
  return watchProgress({
    torchOutAt,
    watchMin: minutesOwed(facts).watchMin,
    roundIntervalMin: duties.roundIntervalMin,
    presence: facts.watchStints.map((stint) => ({ from: stint.onAt, to: stint.offAt })),
    roundsAt: facts.rounds.filter(isPresenceProven).map((round) => round.at),
    now,
  })
}

/**
 * Posts whose last answer is warm or smoke. Smoke starts the watch over, so an answer from before
 * that counts too, until somebody has looked again.
 */
export function postsNotClear(
  facts: Pick<PermitFacts, 'rounds'>,
): { post: string; answer: string }[] {
  const answers = facts.rounds
    .toSorted((a, b) => a.at.getTime() - b.at.getTime())
    .flatMap((round) => round.posts)
  const last = new Map(answers.map(({ post, answer }) => [post, answer] as const))
  return [...last]
    .filter(([, answer]) => answer !== 'clear')
    .map(([post, answer]) => ({ post, answer }))
}

export interface RoundInput {
  facts: PermitFacts
  round: Pick<RoundFact, 'personId' | 'posts'>
  now: Date
}

/** A round opens two minutes before it is due, visits every post, and is made by who is on watch. */
export function mayRecordRound({ facts, round, now }: RoundInput): Verdict {
  const progress = permitWatch(facts, now)
  const isOn = facts.watchStints.some(
    (stint) => stint.personId === round.personId && stint.offAt === null,
  )
  const visited = new Set(round.posts.map((one) => one.post))
  const missing = (facts.duties?.posts ?? []).filter((post) => !visited.has(post))
  const opensAt = progress?.nextOpensAt ?? null
  const isEarly = opensAt !== null && now.getTime() < opensAt.getTime()
  // Smoke is never too early to say.
  const isSmoke = round.posts.some((one) => one.answer !== 'clear')
  const isDone = progress?.done === true && postsNotClear(facts).length === 0
  return verdict([
    ...stateReasons(facts.state, ['held', 'watch']),
    isEarly && !isSmoke && postsNotClear(facts).length === 0
      ? reason('round_too_early', { whenAt: opensAt.getTime() })
      : null,
    isDone && !isSmoke ? reason('round_not_needed') : null,
    isOn ? null : reason('watch_not_on'),
    ...missing.map((post) => reason('post_unanswered', { post })),
    ...scanReasons(facts.codedPosts ?? [], round.posts),
  ])
}

function watchOwed(facts: PermitFacts, progress: WatchProgress): Reason | null {
  if (progress.done) return null
  const minutes = Math.ceil(progress.remainingMs / MS_PER_MIN)
  return reason(
    'watch_owed',
    { minutes, whenAt: progress.endsAtIfWatched?.getTime() ?? 0 },
    facts.duties?.rules.watch,
  )
}

/**
 * Since when looks have followed each other closely enough: the end of the watch, or the first look
 * after a gap longer than the text allows, from which the monitoring starts over.
 */
function monitoredSince(facts: PermitFacts, doneAt: Date): Date {
  const everyMin = facts.duties?.monitoringCheckEveryMin ?? null
  if (everyMin === null) return doneAt
  const looks = facts.monitoringChecksAt
    .filter((at) => at.getTime() >= doneAt.getTime())
    .toSorted((a, b) => a.getTime() - b.getTime())
  const walk = looks.reduce(
    (so, at) =>
      at.getTime() > addMinutes(so.last, everyMin).getTime()
        ? { since: at, last: at }
        : { since: so.since, last: at },
    { since: doneAt, last: doneAt },
  )
  return walk.since
}

/** When monitoring has lasted; null while the watch still runs. */
export function monitoringEndsAt(facts: PermitFacts, progress: WatchProgress): Date | null {
  if (progress.doneAt === null) return null
  return addMinutes(monitoredSince(facts, progress.doneAt), facts.duties?.monitoringMin ?? 0)
}

/** When the next look is due while monitoring; null where none is, or no text sets a spacing. */
export function monitoringCheckDueAt(facts: PermitFacts, now: Date): Date | null {
  const everyMin = facts.duties?.monitoringCheckEveryMin ?? null
  const progress = permitWatch(facts, now)
  if (everyMin === null || !progress?.doneAt || (facts.duties?.monitoringMin ?? 0) === 0)
    return null
  const endsAt = monitoringEndsAt(facts, progress)
  const doneMs = progress.doneAt.getTime()
  const last = facts.monitoringChecksAt.map((at) => at.getTime()).filter((ms) => ms >= doneMs)
  const lastAt = new Date(Math.max(doneMs, ...last))
  if (endsAt === null || lastAt.getTime() >= endsAt.getTime()) return null
  const dueAt = addMinutes(lastAt, everyMin)
  return dueAt.getTime() < endsAt.getTime() ? dueAt : endsAt
}

/** From when the final look counts: after watch and monitoring, and never before its minute. */
export function finalLookFrom(facts: PermitFacts, progress: WatchProgress): Date | null {
  const monitored = monitoringEndsAt(facts, progress)
  if (monitored === null || facts.torchOutAt === null) return null
  const minute = addMinutes(facts.torchOutAt, minutesOwed(facts).finalLookMin)
  return monitored.getTime() > minute.getTime() ? monitored : minute
}

function monitoringReasons(facts: PermitFacts, progress: WatchProgress): Reason[] {
  const endsAt = monitoringEndsAt(facts, progress)
  if (endsAt === null || (facts.duties?.monitoringMin ?? 0) === 0) return []
  const isMonitored = facts.monitoredAt !== null && facts.monitoredAt.getTime() >= endsAt.getTime()
  return isMonitored
    ? []
    : [reason('monitoring_owed', { whenAt: endsAt.getTime() }, facts.duties?.rules.monitoring)]
}

function earlyLook(facts: PermitFacts, progress: WatchProgress, at: Date): Reason | null {
  const from = finalLookFrom(facts, progress)
  if (from === null || at.getTime() >= from.getTime()) return null
  return reason(
    'final_look_early',
    { minutes: minutesBetween(at, from), whenAt: from.getTime() },
    facts.duties?.rules.finalLook,
  )
}

function unknownTorch(): Verdict {
  return verdict([reason('torch_out_unknown')])
}

/** May the final look be recorded: its minute has come, the watch and the monitoring are done. */
export function mayFinalLook(facts: PermitFacts, now: Date): Verdict {
  const progress = permitWatch(facts, now)
  if (!progress) return unknownTorch()
  return verdict([
    ...stateReasons(facts.state, ['watch']),
    watchOwed(facts, progress),
    ...monitoringReasons(facts, progress),
    earlyLook(facts, progress, now),
  ])
}

/** May monitoring be recorded as kept: only once its minutes have passed, and only where it is owed. */
export function mayMonitored(facts: PermitFacts, now: Date): Verdict {
  const progress = permitWatch(facts, now)
  if (!progress) return unknownTorch()
  const endsAt = monitoringEndsAt(facts, progress)
  // Where the looks must follow each other, each of them is recorded; elsewhere only the last.
  const isEarly =
    facts.duties?.monitoringCheckEveryMin == null &&
    endsAt !== null &&
    now.getTime() < endsAt.getTime()
  return verdict([
    ...stateReasons(facts.state, ['watch']),
    watchOwed(facts, progress),
    isEarly
      ? reason('monitoring_owed', { whenAt: endsAt.getTime() }, facts.duties?.rules.monitoring)
      : null,
  ])
}

/** May something that was disabled be recorded as back: once, and while the permit still lives. */
export function mayRestore(facts: PermitFacts, impairmentId: string): Verdict {
  const one = facts.impairments.find(({ id }) => id === impairmentId)
  return verdict([
    ...stateReasons(facts.state, ['open', 'held', 'watch']),
    one && one.restoredAt === null ? null : reason('impairment_not_open'),
  ])
}

/** May this person go off the watch: only who is on it. */
export function mayLeaveWatch(facts: PermitFacts, personId: string): Verdict {
  const isOn = facts.watchStints.some((one) => one.personId === personId && one.offAt === null)
  return verdict([
    ...stateReasons(facts.state, ['held', 'watch']),
    isOn ? null : reason('watch_not_on'),
  ])
}

/** May someone state that no fire is possible: where it is asked for, and after the minutes. */
export function mayStatement(facts: PermitFacts, now: Date): Verdict {
  const progress = permitWatch(facts, now)
  if (!progress) return unknownTorch()
  return verdict([
    ...stateReasons(facts.state, ['watch']),
    facts.duties?.statementRequired ? null : reason('statement_not_asked'),
    watchOwed(facts, progress),
    ...postsNotClear(facts).map(({ post, answer }) => reason('post_not_clear', { post, answer })),
  ])
}

/** Whether a survey that finds no further fire hazard would leave less of this watch than was frozen. */
export function surveyMayShorten({ duties }: Pick<PermitFacts, 'duties'>): boolean {
  const short = duties?.watchMinAfterSurvey ?? null
  return duties !== null && short !== null && short < duties.watchMin
}

/** May a survey be recorded that ends a part of the watch: where the texts in force let it, of an area that is cold. */
export function maySurvey(facts: PermitFacts): Verdict {
  return verdict([
    ...stateReasons(facts.state, ['watch']),
    surveyMayShorten(facts)
      ? null
      : reason('survey_shortens_nothing', {}, 'osha1915-fw-post-30-or-survey'),
    ...postsNotClear(facts).map(({ post, answer }) => reason('post_not_clear', { post, answer })),
  ])
}

/** Everything still owed before the permit may close, signatures aside. */
export function dutiesOwed(facts: PermitFacts, now: Date): readonly Reason[] {
  const progress = permitWatch(facts, now)
  if (!progress) return [reason('torch_out_unknown')]
  const { duties, finalLookAt, statementAt } = facts
  const lookFrom = finalLookFrom(facts, progress)
  const isLooked =
    lookFrom !== null && finalLookAt !== null && finalLookAt.getTime() >= lookFrom.getTime()
  const isStated =
    progress.doneAt !== null &&
    statementAt !== null &&
    statementAt.getTime() >= progress.doneAt.getTime()
  const lookAt = lookFrom ?? addMinutes(progress.endsAtIfWatched ?? now, duties?.monitoringMin ?? 0)
  return [
    watchOwed(facts, progress),
    ...monitoringReasons(facts, progress),
    isLooked
      ? null
      : reason('final_look_missing', { whenAt: lookAt.getTime() }, duties?.rules.finalLook),
    duties?.statementRequired && !isStated
      ? reason('statement_missing', {}, duties.rules.statement)
      : null,
    ...postsNotClear(facts).map(({ post, answer }) => reason('post_not_clear', { post, answer })),
    ...facts.impairments
      .filter((one) => one.restoredAt === null)
      .map((one) => reason('impairment_open', { label: one.label })),
  ].filter((one) => one !== null)
}

/** May the watch be signed off: every duty worked off, by somebody who stood it. */
export function maySignOff(facts: PermitFacts, personId: string, now: Date): Verdict {
  const hasStood = facts.watchStints.some((one) => one.personId === personId)
  return verdict([
    ...stateReasons(facts.state, ['watch']),
    ...dutiesOwed(facts, now),
    hasStood ? null : reason('watch_not_stood'),
  ])
}

/** A final signature counts only when it was given after the final look. */
function finalSignatures(facts: PermitFacts): Reason[] {
  const lookedAt = facts.finalLookAt?.getTime() ?? Infinity
  const isSigned = (act: string) =>
    facts.signatures.some((one) => one.act === act && one.signedAt.getTime() >= lookedAt)
  const acts = facts.duties?.watchRequired ? ['final_watch', 'final_pai'] : ['final_pai']
  return acts.filter((act) => !isSigned(act)).map((act) => reason('signature_missing', { act }))
}

/** May the permit close: every duty worked off and the last inspection signed by watch and PAI. */
export function mayClose(facts: PermitFacts, now: Date): Verdict {
  return verdict([
    ...stateReasons(facts.state, ['watch']),
    ...dutiesOwed(facts, now),
    ...finalSignatures(facts),
  ])
}
