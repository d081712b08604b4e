import { atHourOfDay, startOfHour } from '@/lib/format/zone'

const DAY_FROM_HOUR = 6
const DAY_TO_HOUR = 20
const HOUR_MS = 3_600_000
const BEHIND_MS = 3 * HOUR_MS
const AHEAD_MS = 5 * HOUR_MS

/**
 * The hours of a list's axis: the working day, moved as it is where now is outside it or so late
 * that what is open would end off the axis.
 */
export function dayAround(nowMs: number, timeZone: string): { fromMs: number; toMs: number } {
  const dayFromMs = atHourOfDay(nowMs, timeZone, DAY_FROM_HOUR)
  const dayToMs = atHourOfDay(nowMs, timeZone, DAY_TO_HOUR)
  const hourMs = startOfHour(nowMs, timeZone)
  if (hourMs < dayFromMs)
    return { fromMs: hourMs - BEHIND_MS, toMs: hourMs - BEHIND_MS + dayToMs - dayFromMs }
  const toMs = Math.max(dayToMs, hourMs + AHEAD_MS)
  return { fromMs: toMs - (dayToMs - dayFromMs), toMs }
}
