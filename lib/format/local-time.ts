import { partsOf, zoneOffsetMs } from './zone'

const DAY_MS = 86_400_000

/**
 * The moment at which the clock on a wall in the zone shows this on this day. In the hour that a
 * zone skips it is the moment after the jump; in the hour it repeats, the earlier of the two.
 */
export function instantOfLocal({
  day,
  clock,
  timeZone,
}: Readonly<{ day: string; clock: string; timeZone: string }>): Date {
  const wallMs = Date.parse(`${day}T${clock}:00.000Z`)
  const guesses = [
    wallMs - zoneOffsetMs(wallMs - DAY_MS, timeZone),
    wallMs - zoneOffsetMs(wallMs + DAY_MS, timeZone),
  ]
  const exact = guesses.filter((ms) => ms + zoneOffsetMs(ms, timeZone) === wallMs)
  return new Date(exact.length > 0 ? Math.min(...exact) : Math.max(...guesses))
}

/** "2026-04-13" in the zone. */
export function localDay(moment: Date, timeZone: string): string {
  const { year, month, day } = partsOf(moment.getTime(), {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  })
  return `${year}-${month}-${day}`
}

/** "16:30" in the zone, as a time box holds it. */
export function localClock(moment: Date, timeZone: string): string {
  const { hour, minute } = partsOf(moment.getTime(), {
    timeZone,
    hourCycle: 'h23',
    hour: '2-digit',
    minute: '2-digit',
  })
  return `${hour}:${minute}`
}

/** The day after a day: "2026-04-30" → "2026-05-01". */
export function nextDay(day: string): string {
  return new Date(Date.parse(`${day}T00:00:00.000Z`) + DAY_MS).toISOString().slice(0, 10)
}
