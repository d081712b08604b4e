import { expect, test } from 'vitest'
import { iCalendar } from '@/lib/format/ical'

const now = new Date('2026-04-13T13:28:00Z')
const one = (title: string, day = '2026-02-28') =>
  iCalendar({ name: 'Gas', now, days: [{ id: 'a', day, title }] })

// RFC 5545, 3.1 and 3.6.1.
test('a whole day ends on the next, with CRLF after every line', () => {
  const file = one('Mill')
  expect(file.endsWith('END:VCALENDAR\r\n')).toBe(true)
  expect(file.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/)
  expect(file).toContain('DTSTART;VALUE=DATE:20260228\r\nDTEND;VALUE=DATE:20260301\r\n')
  expect(file).toContain('DTSTAMP:20260413T132800Z\r\n')
})

test('commas, semicolons and line ends do not end a title', () => {
  expect(one('6 oxygen, 1 propane; call\nfirst')).toContain(
    'SUMMARY:6 oxygen\\, 1 propane\\; call\\nfirst\r\n',
  )
})

test('long lines are folded at 75 octets, no letter cut in two', () => {
  const title = '244 ft³ × '.repeat(20).trim()
  const file = one(title)
  const encoder = new TextEncoder()
  for (const line of file.split('\r\n')) expect(encoder.encode(line).length).toBeLessThanOrEqual(75)
  expect(file.replaceAll('\r\n ', '')).toContain(`SUMMARY:${title}`)
})

test('nothing to tell is still a calendar', () => {
  const file = iCalendar({ name: 'Gas', now, days: [] })
  expect(file.split('\r\n')[0]).toBe('BEGIN:VCALENDAR')
  expect(file).not.toContain('VEVENT')
})
