import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { staysOf } from '@/lib/calc/rent-stays'

/** Hours that a site's calendar is off that of the first; a site to the west has yesterday for longer. */
const OFF: Readonly<Record<string, number>> = { a: 0, b: -3, c: 16 }

const row = (hour: number, kind: string, siteId: string, toSiteId: string | null = null) => ({
  ...{ cylinderId: 'c1', serial: 'C1', sizeId: 'oxygen-244', supplierId: 's1' },
  ...{ kind, siteId, toSiteId },
  day: Math.floor((hour + (OFF[toSiteId ?? siteId] ?? 0)) / 24),
})

describe('stays of a rented cylinder', () => {
  test('give the day of a transfer to where it arrives, and the day of its return to where it was', () => {
    const rows = [row(8, 'received', 'a'), row(80, 'moved', 'a', 'b'), row(152, 'returned', 'b')]
    expect(staysOf(rows, 'a')).toMatchObject([{ fromDay: 0, toDay: 2 }])
    expect(staysOf(rows, 'b')).toMatchObject([
      {
        fromDay: 3,
        toDay: 6,
        rentFromDay: 0,
      },
    ])
  })

  test('leave out a site that it passed on a day', () => {
    const rows = [
      row(8, 'received', 'a'),
      row(80, 'moved', 'a', 'b'),
      row(82, 'moved', 'b', 'a'),
      row(104, 'lost', 'a'),
    ]
    expect(staysOf(rows, 'b')).toEqual([])
    expect(staysOf(rows, 'a').map((stay) => [stay.fromDay, stay.toDay])).toEqual([
      [0, 2],
      [3, 4],
    ])
  })

  test('share out every day from arrival to return, once, whatever the calendars of the sites', () => {
    const site = fc.constantFrom('a', 'b', 'c')
    const step = fc.tuple(fc.integer({ min: 0, max: 60 }), site)
    fc.assert(
      fc.property(site, fc.array(step, { maxLength: 12 }), (first, steps) => {
        let hour = 0
        let here = first
        const rows = [row(0, 'received', first)]
        for (const [hours, next] of steps) {
          hour += hours
          rows.push(row(hour, 'moved', here, next))
          here = next
        }
        rows.push(row(hour + 1, 'returned', here))
        const days = ['a', 'b', 'c']
          .flatMap((one) => staysOf(rows, one))
          .flatMap(({ fromDay, toDay }) =>
            Array.from({ length: (toDay ?? fromDay) - fromDay + 1 }, (_, i) => fromDay + i),
          )
          .toSorted((x, y) => x - y)
        const [from = 0] = days
        expect(days).toEqual(Array.from({ length: days.length }, (_, i) => from + i))
        expect(days.length).toBeGreaterThan(0)
      }),
    )
  })
})
