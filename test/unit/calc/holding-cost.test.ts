import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type DrawnEntry, gasDrawn } from '@/lib/calc/gas-drawn'
import { holdingCost, spansOfDays } from '@/lib/calc/holding-cost'
import { rentOf } from '@/lib/calc/rent'

// Worked by hand from the terms of an invented agreement; there is no published example.
const TERMS = {
  freeDays: 10,
  rentMinorPerDay: 25,
  demurrageFromDay: 91,
  demurrageMinorPerDay: 60,
}
const stay = (fromDay: number, toDay: number | null) => ({
  serial: 'A1',
  sizeId: 'oxygen-244',
  fromDay,
  toDay,
})

describe('what holding cylinders costs', () => {
  test('is rent, demurrage, gas and lost deposits, each by itself and together', () => {
    const cost = holdingCost({
      // Days 11 to 90 of the stay at 25, from day 91 at 60: twenty and ten of them are asked about.
      held: [
        {
          stay: stay(1000, null),
          terms: [{ ...TERMS, validFromDay: 0 }],
          spans: [{ fromDay: 1070, toDay: 1099 }],
        },
      ],
      drawn: [
        { kg: 9.2, minorPerKg: 400 },
        { kg: 2, minorPerKg: 1500 },
      ],
      lost: [
        { count: 1, depositMinor: 18_000 },
        { count: 1, depositMinor: 25_000 },
        { count: -1, depositMinor: 18_000 },
      ],
    })
    expect(cost).toMatchObject({
      rentMinor: 20 * 25,
      demurrageMinor: 10 * 60,
      lostMinor: 25_000,
      unknown: { rentDays: 0, gasKg: 0, lost: 0 },
    })
    expect(cost.gasMinor).toBeCloseTo(9.2 * 400 + 3000, 9)
    expect(cost.totalMinor).toBeCloseTo(500 + 600 + 6680 + 25_000, 9)
  })

  test('says what nothing prices instead of taking it for free', () => {
    const cost = holdingCost({
      held: [{ stay: stay(1000, 1003), terms: [], spans: [{ fromDay: 990, toDay: 1010 }] }],
      drawn: [{ kg: 3, minorPerKg: null }],
      lost: [{ count: 1, depositMinor: null }],
    })
    expect(cost).toMatchObject({ totalMinor: 0, unknown: { rentDays: 4, gasKg: 3, lost: 1 } })
  })

  test('refuses a day that is counted twice', () => {
    const spans = [
      { fromDay: 1000, toDay: 1005 },
      { fromDay: 1005, toDay: 1006 },
    ]
    const held = [{ stay: stay(1000, null), terms: [{ ...TERMS, validFromDay: 0 }], spans }]
    expect(() => holdingCost({ held, drawn: [], lost: [] })).toThrow(
      expect.objectContaining({ code: 'OUT_OF_RANGE', field: 'spans' }),
    )
  })

  test('a stay’s days shared out among jobs and the site cost what the stay costs', () => {
    const day = fc.integer({ min: 1000, max: 1200 })
    fc.assert(
      fc.property(fc.uniqueArray(day, { maxLength: 60 }), day, (mine, from) => {
        const whole = { fromDay: 1000, toDay: 1200 }
        const others = Array.from({ length: 201 }, (_, i) => 1000 + i).filter(
          (one) => !mine.includes(one),
        )
        const costOf = (days: number[]) =>
          holdingCost({
            held: [
              {
                stay: stay(from, null),
                terms: [{ ...TERMS, validFromDay: 0 }],
                spans: spansOfDays(days),
              },
            ],
            drawn: [],
            lost: [],
          }).totalMinor
        expect(costOf(mine) + costOf(others)).toBe(
          rentOf(stay(from, null), TERMS, whole).amountMinor,
        )
      }),
    )
  })
})

const entry = (kind: string, over: Partial<DrawnEntry> = {}): DrawnEntry => ({
  cylinderId: 'c1',
  day: 1000,
  siteId: 's1',
  jobId: null,
  kind,
  contentsKg: null,
  markedEmpty: false,
  nominalKg: 9.2,
  heelKg: 0.5,
  ...over,
})
const kgOf = (entries: readonly DrawnEntry[]) => gasDrawn(entries).map((one) => one.kg)

describe('gas drawn', () => {
  test('is what a cylinder held less what it was read to hold, while it hung', () => {
    const drawn = gasDrawn([
      entry('received'),
      entry('put_on', { jobId: 'j1', day: 1001 }),
      entry('read', { jobId: 'j1', day: 1002, contentsKg: 6.2 }),
      entry('taken_off', { jobId: 'j2', day: 1003, markedEmpty: true }),
    ])
    expect(drawn.map((one) => [one.jobId, one.day])).toEqual([
      ['j1', 1002],
      ['j2', 1003],
    ])
    expect(drawn[0]?.kg).toBeCloseTo(3, 12)
    expect(drawn[1]?.kg).toBeCloseTo(5.7, 12)
  })

  test('is no leak in the yard, no return and nothing before anybody knew', () => {
    expect(
      kgOf([
        entry('received'),
        entry('read', { contentsKg: 8 }),
        entry('put_on'),
        entry('taken_off', { contentsKg: 8 }),
        entry('returned'),
      ]),
    ).toEqual([])
    expect(kgOf([entry('put_on'), entry('read', { contentsKg: 4 })])).toEqual([])
  })

  test('adds up to what went in less what came off, whatever was read between', () => {
    const readings = fc.array(fc.double({ min: 0, max: 9, noNaN: true }), { minLength: 1 })
    fc.assert(
      fc.property(readings, (between) => {
        const entries = [
          entry('received'),
          entry('put_on'),
          ...between.map((contentsKg) => entry('read', { contentsKg })),
          entry('taken_off'),
        ]
        const sum = kgOf(entries).reduce((a, b) => a + b, 0)
        expect(sum).toBeCloseTo(9.2 - (between.at(-1) ?? 0), 9)
      }),
    )
  })

  test('refuses contents below nothing', () => {
    expect(() => kgOf([entry('read', { contentsKg: -1 })])).toThrow(
      expect.objectContaining({ code: 'OUT_OF_RANGE', field: 'contentsKg' }),
    )
  })
})
