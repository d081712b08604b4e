/** A whole day in a calendar. */
export type CalendarDay = Readonly<{
  /** Stays the same while the entry does, so that a changed day moves and is not doubled. */
  id: string
  /** "2026-04-13". */
  day: string
  title: string
}>

const MOST_BYTES = 75
const DAY_MS = 86_400_000

const escaped = (text: string) =>
  text.replace(/[\\;,]/g, (letter) => `\\${letter}`).replace(/\r?\n/g, '\\n')

const compact = (ms: number) => new Date(ms).toISOString().slice(0, 10).replaceAll('-', '')

/** Lines of at most 75 octets; what goes on begins with a space. Letters are never cut in two. */
function folded(line: string): string {
  const encoder = new TextEncoder()
  const lines: string[] = []
  let now = ''
  for (const letter of line) {
    if (encoder.encode(now + letter).length > MOST_BYTES) {
      lines.push(now)
      now = ' '
    }
    now += letter
  }
  return [...lines, now].join('\r\n')
}

/**
 * Days as an iCalendar file.
 *
 * @param calendar name, when it was written, and its days
 * @source RFC 5545: CRLF, lines folded at 75 octets, a whole day ends on the next
 */
export function iCalendar({
  name,
  now,
  days,
}: {
  name: string
  now: Date
  days: readonly CalendarDay[]
}): string {
  const stamp = `${now.toISOString().slice(0, 19).replace(/[-:]/g, '')}Z`
  const events = days.flatMap(({ id, day, title }) => {
    const from = Date.parse(`${day}T00:00:00Z`)
    return [
      'BEGIN:VEVENT',
      `UID:${escaped(id)}@kerfwatch`,
      `DTSTAMP:${stamp}`,
      `DTSTART;VALUE=DATE:${compact(from)}`,
      `DTEND;VALUE=DATE:${compact(from + DAY_MS)}`,
      `SUMMARY:${escaped(title)}`,
      'TRANSP:TRANSPARENT',
      'END:VEVENT',
    ]
  })
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Kerfwatch//Supply//EN',
    `X-WR-CALNAME:${escaped(name)}`,
    ...events,
    'END:VCALENDAR',
  ]
  return `${lines.map(folded).join('\r\n')}\r\n`
}
