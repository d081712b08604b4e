const formats = new Map<string, Intl.DateTimeFormat>()

function formatOf(zone: string): Intl.DateTimeFormat {
  const kept = formats.get(zone)
  if (kept) return kept
  const made = new Intl.DateTimeFormat('en-US', {
    timeZone: zone,
    hourCycle: 'h23',
    year: 'numeric',
    month: 'numeric',
    day: 'numeric',
    hour: 'numeric',
    minute: 'numeric',
    second: 'numeric',
  })
  formats.set(zone, made)
  return made
}

/** The wall clock of a zone at an instant, written as if it were UTC. */
function wallClockMs(zone: string, atMs: number): number {
  const parts = new Map(
    formatOf(zone)
      .formatToParts(atMs)
      .map(({ type, value }) => [type, Number(value)]),
  )
  const part = (type: Intl.DateTimeFormatPartTypes) => parts.get(type) ?? 0
  return Date.UTC(
    part('year'),
    part('month') - 1,
    part('day'),
    part('hour'),
    part('minute'),
    part('second'),
  )
}

/** The calendar day of a zone at an instant, as the ISO date. */
export function localDay(zone: string, atMs: number): string {
  return new Date(wallClockMs(zone, atMs)).toISOString().slice(0, 10)
}

/** The instant at which a zone's clock shows these hours and minutes of that day. */
export function atLocal(zone: string, day: string, minutesOfDay: number): number {
  const wanted = Date.parse(`${day}T00:00:00Z`) + minutesOfDay * 60_000
  const near = wanted - (wallClockMs(zone, wanted) - wanted)
  return near - (wallClockMs(zone, near) - wanted)
}

/** The ISO date some days later. */
export function addDays(day: string, days: number): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10)
}

/** ISO weekday, Monday 1 to Sunday 7. */
export function weekdayOf(day: string): number {
  return new Date(`${day}T00:00:00Z`).getUTCDay() || 7
}
