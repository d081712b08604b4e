import { lookDue } from '../rules/clocks'
import { addMinutes, reason } from './reasons'
import type { FrozenDuties, PermitFacts, Reason } from './types'

/** A look made this long before a shift begins is that shift's: who starts it comes early. House rule, no source. */
export const LOOK_AHEAD_MIN = 30

const MS_PER_HOUR = 3_600_000

type Limits = Pick<FrozenDuties, 'reinspectEachShift' | 'reinspectEveryHours'>

/** The first shift that a look made then is not of; null where none begins that the caller knows of. */
export function shiftAfter(lookedAt: Date, shiftStartsAt: readonly Date[]): Date | null {
  const servesMs = addMinutes(lookedAt, LOOK_AHEAD_MIN).getTime()
  const later = shiftStartsAt.map((at) => at.getTime()).filter((ms) => ms > servesMs)
  return later.length === 0 ? null : new Date(Math.min(...later))
}

/**
 * Until when a look serves: the next shift where the rules ask for one each shift, or so many hours;
 * null where nothing ends it.
 */
export function lookServesUntil(
  limits: Limits,
  lookedAt: Date,
  shiftStartsAt: readonly Date[],
): Date | null {
  const shift = limits.reinspectEachShift ? shiftAfter(lookedAt, shiftStartsAt) : null
  const hours =
    limits.reinspectEveryHours === null
      ? null
      : new Date(lookedAt.getTime() + limits.reinspectEveryHours * MS_PER_HOUR)
  if (shift === null || hours === null) return shift ?? hours
  return new Date(Math.min(shift.getTime(), hours.getTime()))
}

/** Why a look made then does not serve now; a look that nobody made serves nothing. */
export function lookDueReasons(
  limits: Limits,
  lookedAt: Date | null,
  { shiftStartsAt, now }: Readonly<{ shiftStartsAt: readonly Date[]; now: Date }>,
): Reason[] {
  const shift = lookedAt === null ? (shiftStartsAt[0] ?? null) : shiftAfter(lookedAt, shiftStartsAt)
  const due = lookDue(limits, {
    isNewShift: shift !== null && shift.getTime() <= now.getTime(),
    hoursSinceLook:
      lookedAt === null ? Infinity : (now.getTime() - lookedAt.getTime()) / MS_PER_HOUR,
  })
  return due.map((why) =>
    why === 'shift'
      ? reason('look_due_shift', {}, 'nfpa51b-reinspect-each-shift')
      : reason(
          'look_due_hours',
          { hours: limits.reinspectEveryHours ?? 0 },
          'ifc-area-review-daily',
        ),
  )
}

/**
 * Whether the outfit was looked at in this shift, where the rules ask for that. Without known shifts
 * nothing is asked by the clock.
 */
export function gearDueReasons(
  duties: Pick<FrozenDuties, 'gearCheckEachShift'>,
  { gear = null, shiftStartsAt = [] }: Pick<PermitFacts, 'gear' | 'shiftStartsAt'>,
  now: Date,
): Reason[] {
  if (!duties.gearCheckEachShift || gear === null || shiftStartsAt.length === 0) return []
  const shift = gear.checkedAt && shiftAfter(gear.checkedAt, shiftStartsAt)
  const isDone = gear.checkedAt !== null && (shift === null || shift.getTime() > now.getTime())
  return isDone
    ? []
    : [reason('gear_check_due', { outfit: gear.label }, 'osha1926-hose-shift-inspection')]
}
