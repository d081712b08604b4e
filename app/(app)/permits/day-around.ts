import { atHourOfDay, startOfHour } from '@/lib/format/zone'

const DAY_FROM_HOUR = 6
const DAY_TO_HOUR = 20
const NIGHT_BEFORE_MS = 3 * 3_600_000

/** The working day; on a night shift as many hours, so that now is always among them. */
export function dayAround(nowMs: number, timeZone: string): { fromMs: number; toMs: number } {
  const fromMs = atHourOfDay(nowMs, timeZone, DAY_FROM_HOUR)
  const toMs = atHourOfDay(nowMs, timeZone, DAY_TO_HOUR)
  if (nowMs >= fromMs && nowMs <= toMs) return { fromMs, toMs }
  const nightMs = startOfHour(nowMs, timeZone) - NIGHT_BEFORE_MS
  return { fromMs: nightMs, toMs: nightMs + toMs - fromMs }
}
