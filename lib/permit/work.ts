import { gasTestReasons } from './gas-test'
import { stateReasons } from './issue'
import { addMinutes, minutesBetween, personReasons, reason, verdict } from './reasons'
import { gearDueReasons, lookDueReasons, lookServesUntil } from './shift'
import type { PermitFacts, PersonFact, Reason, SignatureFact, Stint, Verdict } from './types'

/** A log written down later than this after the work is marked late, as the database marks it. House rule. */
const LATE_LOG_AFTER_MIN = 30

function endReasons(facts: PermitFacts, now: Date): Reason[] {
  const { validUntil, stopPressedAt, stoppedAt, expiredAt } = facts
  const isOver =
    expiredAt !== null || (validUntil !== null && validUntil.getTime() <= now.getTime())
  const isPressed = stopPressedAt !== null && stoppedAt === null
  return [
    ...(isPressed ? [reason('stop_pressed', { whenAt: stopPressedAt.getTime() })] : []),
    ...(stoppedAt ? [reason('permit_stopped', { whenAt: stoppedAt.getTime() })] : []),
    ...(isOver
      ? [reason('permit_ended', { whenAt: (expiredAt ?? validUntil ?? now).getTime() })]
      : []),
  ]
}

/** Anybody on the permit may put it on hold while it is open. */
export function mayHold(facts: PermitFacts): Verdict {
  return verdict(stateReasons(facts.state, ['open']))
}

/** Air is tested while the permit lives. */
export function mayTestAir(facts: Pick<PermitFacts, 'state'>): Verdict {
  return verdict(stateReasons(facts.state, ['preparing', 'cleared', 'open', 'held', 'watch']))
}

/** A new look belongs to a hold or to the watch. */
export function mayLookAgain(facts: Pick<PermitFacts, 'state'>): Verdict {
  return verdict(stateReasons(facts.state, ['held', 'watch']))
}

export interface ResumeInput {
  facts: PermitFacts
  /** The PAI's signature made in this act; null where none was given. */
  signature: SignatureFact | null
  operator: PersonFact | undefined
  pai: PersonFact | undefined
  fireWatch: PersonFact | undefined
  /** Today in the site's zone, ISO date. */
  day: string
  now: Date
}

/** A look counts when it was made after the work stopped, and not longer ago than a break may last. */
function lookReasons(facts: PermitFacts, since: Date | null, now: Date): Reason[] {
  const { lastLookAt, duties, shiftStartsAt = [] } = facts
  if (lastLookAt === null || since === null || lastLookAt.getTime() < since.getTime())
    return [reason('look_missing')]
  const limitMin = duties?.breakLimitMin ?? 0
  const ageMin = minutesBetween(lastLookAt, now)
  return [
    ...(ageMin > limitMin ? [reason('look_too_old', { ageMin, limitMin })] : []),
    ...(duties ? lookDueReasons(duties, lastLookAt, { shiftStartsAt, now }) : []),
  ]
}

function goOnReasons(input: ResumeInput, since: Date | null): Reason[] {
  const { facts, now, day } = input
  const { duties } = facts
  const needsPai = duties?.resumeNeedsPai ?? true
  const isSigned = input.signature?.act === 'resume' && input.signature.personId === input.pai?.id
  const isOwn = needsPai && input.pai !== undefined && input.pai.id === facts.operatorId
  return [
    ...endReasons(facts, now),
    ...lookReasons(facts, since, now),
    ...(duties ? gearDueReasons(duties, facts, now) : []),
    ...(duties
      ? gasTestReasons(facts.gasTests, duties, now)
      : [reason('gas_test_missing', { validMin: 0 })]),
    ...(needsPai && !isSigned ? [reason('resume_signature_missing')] : []),
    ...(needsPai && input.pai ? personReasons(input.pai, 'pai', day) : []),
    ...(isOwn
      ? [
          reason(
            'same_person',
            { person: input.pai?.name ?? '', first: 'operator', second: 'pai' },
            'nfpa51b-pai-not-operator',
          ),
        ]
      : []),
    ...personReasons(input.operator, 'torch_operator', day),
    ...(duties?.watchRequired ? personReasons(input.fireWatch, 'fire_watch', day) : []),
    ...(duties?.watchRequired && facts.watchStints.every((stint) => stint.offAt !== null)
      ? [reason('watch_absent')]
      : []),
  ]
}

/** What is looked at counts from the last fire or smoke: the torch of a hold, or what started its watch over since. */
export function looksCountSince(facts: Pick<PermitFacts, 'heldAt' | 'torchOutAt'>): Date | null {
  const { heldAt, torchOutAt } = facts
  if (heldAt === null || torchOutAt === null) return heldAt ?? torchOutAt
  return heldAt.getTime() > torchOutAt.getTime() ? heldAt : torchOutAt
}

/** Back to work from a hold: a new look since it began, good air, the PAI's signature, time left. */
export function mayResume(input: ResumeInput): Verdict {
  return verdict([
    ...stateReasons(input.facts.state, ['held']),
    ...goOnReasons(input, looksCountSince(input.facts)),
  ])
}

/** Back to work from the watch while the permit still runs; a stopped one never. */
export function mayReopen(input: ResumeInput): Verdict {
  return verdict([
    ...stateReasons(input.facts.state, ['watch']),
    ...goOnReasons(input, input.facts.torchOutAt),
  ])
}

/** The torch is out for good: open or held work becomes the watch. */
export function mayEndWork(facts: PermitFacts, torchOutAt: Date, now: Date): Verdict {
  const started = facts.openSpans.at(-1)?.from ?? null
  const isBeforeStart = started !== null && torchOutAt.getTime() < started.getTime()
  return verdict([
    ...stateReasons(facts.state, ['open', 'held']),
    torchOutAt.getTime() > now.getTime()
      ? reason('time_future', { whenAt: torchOutAt.getTime() })
      : null,
    isBeforeStart
      ? reason('time_order', { fromAt: started.getTime(), toAt: torchOutAt.getTime() })
      : null,
  ])
}

export interface LogInput {
  facts: PermitFacts
  from: Date
  to: Date
  areaId: string
  operator: PersonFact | undefined
  /** The day of the work in the site's zone, ISO date. */
  day: string
  now: Date
}

const covers = (span: { from: Date; to: Date | null }, input: LogInput) =>
  span.from.getTime() <= input.from.getTime() &&
  (span.to?.getTime() ?? Infinity) >= input.to.getTime()
const stintSpan = (stint: Stint) => ({ from: stint.onAt, to: stint.offAt })

/** Work that went on after its look no longer served: a new shift, or a day, without another. */
function unlookedReasons({ facts, from, to }: LogInput): Reason[] {
  const { duties, shiftStartsAt = [] } = facts
  const looked = (facts.looksAt ?? []).findLast((at) => at.getTime() <= from.getTime())
  if (duties === null || looked === undefined) return []
  const until = lookServesUntil(duties, looked, shiftStartsAt)
  if (until === null || until.getTime() >= to.getTime()) return []
  return lookDueReasons(duties, looked, { shiftStartsAt, now: new Date(to.getTime() - 1) })
}

/**
 * May this work be logged under the permit: inside one span in which it was open, in its area, by
 * an operator who was on it and qualified. Work that fails here is not refused as a fact; it is
 * recorded as work outside the permit.
 */
export function mayLog(input: LogInput): Verdict<{ isLate: boolean }> {
  const { facts, from, to, now, operator } = input
  const isOn = facts.operatorStints.some(
    (stint) => stint.personId === operator?.id && covers(stintSpan(stint), input),
  )
  const isInside = facts.openSpans.some((span) => covers(span, input))
  const isPastEnd = facts.validUntil !== null && to.getTime() > facts.validUntil.getTime()
  const checked = verdict([
    from.getTime() >= to.getTime()
      ? reason('time_order', { fromAt: from.getTime(), toAt: to.getTime() })
      : null,
    to.getTime() > now.getTime() ? reason('time_future', { whenAt: to.getTime() }) : null,
    isInside ? null : reason('outside_open_time', { fromAt: from.getTime(), toAt: to.getTime() }),
    isPastEnd ? reason('permit_ended', { whenAt: facts.validUntil?.getTime() ?? 0 }) : null,
    ...unlookedReasons(input),
    input.areaId === facts.areaId ? null : reason('wrong_area', { area: facts.areaLabel }),
    ...personReasons(operator, 'torch_operator', input.day),
    isOn ? null : reason('operator_not_on', { person: operator?.name ?? '' }),
  ])
  if (!checked.ok) return checked
  return { ok: true, isLate: now.getTime() > addMinutes(to, LATE_LOG_AFTER_MIN).getTime() }
}

export interface SwapInput {
  /** The permit it happens under, or null away from one. */
  facts: Pick<PermitFacts, 'state'> | null
  siteId: string
  outfitId: string
  sideGas: string
  off: { id: string } | null
  on: {
    id: string
    serial: string
    gas: string
    siteId: string | null
    isEmpty: boolean
    isQuarantined: boolean
    outfit: { id: string; label: string } | null
  }
  isShut: boolean
  isBled: boolean
  isLeakTested: boolean
}

/** May this cylinder go on this side of the outfit. A wrong swap that happened is recorded as what it was. */
export function maySwap({ facts, on, off, sideGas, siteId, ...act }: SwapInput): Verdict {
  const steps = { shut: act.isShut, bled: act.isBled, leak_tested: act.isLeakTested }
  const { serial } = on
  return verdict([
    ...(facts ? stateReasons(facts.state, ['cleared', 'open', 'held', 'watch']) : []),
    on.gas === sideGas
      ? null
      : reason('cylinder_wrong_gas', { serial, gas: on.gas, side: sideGas }),
    on.isEmpty ? reason('cylinder_empty', { serial }) : null,
    on.isQuarantined ? reason('cylinder_quarantined', { serial }) : null,
    on.siteId === siteId ? null : reason('cylinder_not_here', { serial }),
    on.outfit && on.outfit.id !== act.outfitId
      ? reason('cylinder_on_other_outfit', { serial, outfit: on.outfit.label })
      : null,
    off?.id === on.id ? reason('cylinder_same', { serial }) : null,
    ...Object.entries(steps).map(([step, isDone]) =>
      isDone ? null : reason('swap_step_open', { step }),
    ),
  ])
}
