const formatters = new Map<string, Intl.DateTimeFormat>()

/** One formatter a set of options: making one costs far more than using it. */
export function formatterFor(options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = JSON.stringify(options)
  const known = formatters.get(key)
  if (known) return known
  const made = new Intl.DateTimeFormat('en-GB', options)
  formatters.set(key, made)
  return made
}

export function partsOf(ms: number, options: Intl.DateTimeFormatOptions): Record<string, string> {
  return Object.fromEntries(
    formatterFor(options)
      .formatToParts(ms)
      .map((part) => [part.type, part.value]),
  )
}

/** The zone's offset from UTC at a moment, ms: New York in winter is -18,000,000. */
export function zoneOffsetMs(ms: number, timeZone: string): number {
  const p = partsOf(ms, {
    timeZone,
    hourCycle: 'h23',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    second: '2-digit',
  })
  const wallMs = Date.UTC(
    Number(p.year),
    Number(p.month) - 1,
    Number(p.day),
    Number(p.hour),
    Number(p.minute),
    Number(p.second),
  )
  return wallMs - Math.floor(ms / 1000) * 1000
}

const HOUR_MS = 3_600_000

/** The moment, in the zone, when the hour that holds `ms` began. */
export function startOfHour(ms: number, timeZone: string): number {
  const offset = zoneOffsetMs(ms, timeZone)
  return Math.floor((ms + offset) / HOUR_MS) * HOUR_MS - offset
}

/** The moment at which the clock on the wall shows this hour on the day that holds `ms`. */
export function atHourOfDay(ms: number, timeZone: string, hour: number): number {
  const day = Math.floor((ms + zoneOffsetMs(ms, timeZone)) / (24 * HOUR_MS)) * 24 * HOUR_MS
  const guess = day + hour * HOUR_MS - zoneOffsetMs(ms, timeZone)
  // The offset may differ at that hour on the day a zone changes its clocks.
  return day + hour * HOUR_MS - zoneOffsetMs(guess, timeZone)
}

/** Every zone that this machine knows by name, and the one in use though it may have no such name. */
export function zoneNames(inUse: string): string[] {
  return [...new Set([inUse, ...Intl.supportedValuesOf('timeZone')])].sort()
}
