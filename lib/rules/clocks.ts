import type { LayerParameters } from './types'

const MS_PER_HOUR = 3_600_000

/** Elapsed hours between two instants: a change of the wall clock neither adds nor takes any. */
export function elapsedHours(from: Date, to: Date): number {
  return (to.getTime() - from.getTime()) / MS_PER_HOUR
}

export type ValidityState = 'in_force' | 'expired' | 'expired_watch_running'

/**
 * Whether a permit still allows work. The cap is elapsed time; a permit whose time is up keeps
 * running for its watch alone.
 */
export function validityState(input: {
  startedAt: Date
  now: Date
  capHours: number | null
  isWatchRunning: boolean
}): ValidityState {
  const { capHours } = input
  if (capHours === null || elapsedHours(input.startedAt, input.now) <= capHours) return 'in_force'
  return input.isWatchRunning ? 'expired_watch_running' : 'expired'
}

export type LookDue = 'shift' | 'hours'

/** Why the area must be looked at again before work goes on; empty while it need not. */
export function lookDue(
  limits: Pick<LayerParameters, 'reinspectEachShift' | 'reinspectEveryHours'>,
  since: { isNewShift: boolean; hoursSinceLook: number },
): readonly LookDue[] {
  const { reinspectEachShift, reinspectEveryHours } = limits
  const isOverdue = reinspectEveryHours !== null && since.hoursSinceLook > reinspectEveryHours
  return [
    ...(reinspectEachShift && since.isNewShift ? (['shift'] as const) : []),
    ...(isOverdue ? (['hours'] as const) : []),
  ]
}

/** Whether the gas must be shut off at the supply because work has stood still this long. */
export function isGasOffDue(
  limits: Pick<LayerParameters, 'gasOffAfterIdleMin'>,
  idleMin: number,
): boolean {
  return limits.gasOffAfterIdleMin !== null && idleMin >= limits.gasOffAfterIdleMin
}

/** Whether the record must still be at hand so many hours after the work. */
export function mustKeepRecord(
  limits: Pick<LayerParameters, 'keepRecordsHours'>,
  hoursSince: number,
): boolean {
  return limits.keepRecordsHours !== null && hoursSince <= limits.keepRecordsHours
}

/** More monitoring than a text speaks of is the site's own, stricter policy: said, never refused. */
export function monitoringAdvice(
  monitoringMin: number,
  maxMin: number | null,
): 'within_text' | 'longer_than_text' {
  return maxMin !== null && monitoringMin > maxMin ? 'longer_than_text' : 'within_text'
}

/** Whether hoses and torches have lain alone for longer than the texts in force allow. */
export function isUnattendedTooLong(
  limits: Pick<LayerParameters, 'unattendedEnclosedMaxMin' | 'unattendedConfinedMaxMin'>,
  hose: { space: 'open' | 'enclosed' | 'confined'; isCharged: boolean; unattendedMin: number },
): boolean {
  const { unattendedEnclosedMaxMin, unattendedConfinedMaxMin } = limits
  const isOver = (maxMin: number | null) => maxMin !== null && hose.unattendedMin > maxMin
  if (hose.space === 'confined') return isOver(unattendedConfinedMaxMin)
  return hose.space === 'enclosed' && hose.isCharged && isOver(unattendedEnclosedMaxMin)
}
