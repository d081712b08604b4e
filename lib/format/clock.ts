import type { FormatPrefs } from './prefs'
import { partsOf } from './zone'

type Moment = Date | number
type ClockPrefs = Pick<FormatPrefs, 'clock' | 'timeZone'>
type ZonePrefs = Pick<FormatPrefs, 'timeZone'>

const toMs = (moment: Moment) => (typeof moment === 'number' ? moment : moment.getTime())

function clockParts(moment: Moment, timeZone: string) {
  const parts = partsOf(toMs(moment), {
    timeZone,
    hourCycle: 'h23',
    hour: '2-digit',
    minute: '2-digit',
  })
  return { hour: Number(parts.hour), minute: parts.minute ?? '00' }
}

/** "15:16", or "3:16 pm" for who reads a 12-hour clock. */
export function formatClock(moment: Moment, { clock, timeZone }: ClockPrefs): string {
  const { hour, minute } = clockParts(moment, timeZone)
  if (clock === '24') return `${String(hour).padStart(2, '0')}:${minute}`
  return `${hour % 12 || 12}:${minute}\u00a0${hour < 12 ? 'am' : 'pm'}`
}

/** Axis heads: "8:00", "14:00", or "2 pm". */
export function formatAxisHour(moment: Moment, { clock, timeZone }: ClockPrefs): string {
  const { hour, minute } = clockParts(moment, timeZone)
  if (clock === '24') return `${hour}:${minute}`
  return `${hour % 12 || 12}\u00a0${hour < 12 ? 'am' : 'pm'}`
}

/** "14:08–14:37". */
export function formatClockRange(from: Moment, to: Moment, prefs: ClockPrefs): string {
  return `${formatClock(from, prefs)}–${formatClock(to, prefs)}`
}

/** "Tue". */
export function formatWeekday(moment: Moment, { timeZone }: ZonePrefs): string {
  return partsOf(toMs(moment), { timeZone, weekday: 'short' }).weekday ?? ''
}

const dayMonth = (moment: Moment, timeZone: string) => {
  const { day, month } = partsOf(toMs(moment), { timeZone, day: 'numeric', month: 'short' })
  return `${day} ${month === 'Sept' ? 'Sep' : month}`
}

/** "Mon 13 Apr". */
export function formatDay(moment: Moment, prefs: ZonePrefs): string {
  return `${formatWeekday(moment, prefs)} ${dayMonth(moment, prefs.timeZone)}`
}

/** "13 Apr 2033". */
export function formatDate(moment: Moment, { timeZone }: ZonePrefs): string {
  return `${dayMonth(moment, timeZone)} ${partsOf(toMs(moment), { timeZone, year: 'numeric' }).year}`
}

/** "Mon 13 Apr 13:28". */
export function formatDayClock(moment: Moment, prefs: ClockPrefs): string {
  return `${formatDay(moment, prefs)} ${formatClock(moment, prefs)}`
}

const DAY_MS = 86_400_000

/**
 * The shortest that can't be misread: "14:20" today, "Tue 09:20" within two days, "Fri 17 Apr"
 * within a week, "21 Apr" after that.
 */
export function formatWhen(moment: Moment, now: Moment, prefs: ClockPrefs): string {
  const awayMs = toMs(moment) - toMs(now)
  if (formatDate(moment, prefs) === formatDate(now, prefs)) return formatClock(moment, prefs)
  if (Math.abs(awayMs) < 2 * DAY_MS)
    return `${formatWeekday(moment, prefs)} ${formatClock(moment, prefs)}`
  if (Math.abs(awayMs) < 7 * DAY_MS) return formatDay(moment, prefs)
  if (Math.abs(awayMs) < 180 * DAY_MS) return dayMonth(moment, prefs.timeZone)
  return formatDate(moment, prefs)
}
