import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type DatedTerms, type RentTerms, rentByDay, rentOf } from '@/lib/calc/rent'
import { checkStatement } from '@/lib/calc/statement-check'

// Worked by hand from the terms of an invented agreement; there is no published example.
const TERMS: RentTerms = {
  freeDays: 10,
  rentMinorPerDay: 25,
  demurrageFromDay: 91,
  demurrageMinorPerDay: 60,
}
const APRIL = { fromDay: 20_544, toDay: 20_573 } // thirty days
const stay = (fromDay: number, toDay: number | null, serial = 'A1') => ({
  serial,
  sizeId: 'oxygen-244',
  fromDay,
  toDay,
})

describe('rent of a stay within a period', () => {
  test.each([
    // came on the first and stays: 10 days free, 20 at 25
    [
      'from the first',
      20_544,
      null,
      { days: 30, freeDays: 10, rentDays: 20, demurrageDays: 0, amountMinor: 500 },
    ],
    // came five days before: 5 free days left, 25 at 25
    [
      'from before',
      20_539,
      null,
      { days: 30, freeDays: 5, rentDays: 25, demurrageDays: 0, amountMinor: 625 },
    ],
    // day 91 of the stay is day 20,559: 15 at 25, 15 at 60
    [
      'into demurrage',
      20_469,
      null,
      { days: 30, freeDays: 0, rentDays: 15, demurrageDays: 15, amountMinor: 1275 },
    ],
    // one day, and gone the same day
    [
      'of a day',
      20_550,
      20_550,
      { days: 1, freeDays: 1, rentDays: 0, demurrageDays: 0, amountMinor: 0 },
    ],
    [
      'that was over before',
      20_500,
      20_543,
      { days: 0, freeDays: 0, rentDays: 0, demurrageDays: 0, amountMinor: 0 },
    ],
    [
      'that began later',
      20_574,
      null,
      { days: 0, freeDays: 0, rentDays: 0, demurrageDays: 0, amountMinor: 0 },
    ],
  ])('%s', (_which, from, to, charge) => {
    expect(rentOf(stay(from, to), TERMS, APRIL)).toEqual(charge)
  })

  test('of two periods in a row is that of both together', () => {
    const day = fc.integer({ min: 0, max: 400 })
    fc.assert(
      fc.property(day, day, fc.tuple(day, day, day), (from, length, cuts) => {
        const [a, b, c] = [...cuts].sort((x, y) => x - y) as [number, number, number]
        const of = (fromDay: number, toDay: number) =>
          toDay < fromDay
            ? 0
            : rentOf(stay(from, from + length), TERMS, { fromDay, toDay }).amountMinor
        expect(of(a, b) + of(b + 1, c)).toBe(of(a, c))
      }),
    )
  })

  test('refuses half days and terms below nothing', () => {
    expect(() => rentOf(stay(0.5, null), TERMS, APRIL)).toThrow('OUT_OF_RANGE')
    expect(() => rentOf(stay(0, null), { ...TERMS, freeDays: -1 }, APRIL)).toThrow('OUT_OF_RANGE')
  })
})

describe('rent while the terms change', () => {
  const dearer: DatedTerms = { ...TERMS, rentMinorPerDay: 40, validFromDay: 20_564 }
  const both = [dearer, { ...TERMS, validFromDay: 20_000 }]

  test('prices each day by the terms of that day, at its own place in the rent', () => {
    // Came on the first: ten days free, ten at 25, then ten at 40.
    expect(rentByDay(stay(20_544, null), both, APRIL)).toMatchObject({
      days: 30,
      freeDays: 10,
      rentDays: 20,
      amountMinor: 10 * 25 + 10 * 40,
      unknownDays: 0,
    })
    // Free days that come later are for days that are in them still.
    const longer = { ...dearer, freeDays: 25 }
    expect(rentByDay(stay(20_544, null), [longer, ...both.slice(1)], APRIL)).toMatchObject({
      freeDays: 10 + 5,
      amountMinor: 10 * 25 + 5 * 40,
    })
  })

  test('says which days nothing priced', () => {
    expect(rentByDay(stay(20_544, null), [dearer], APRIL)).toMatchObject({
      days: 30,
      unknownDays: 20,
      amountMinor: 10 * 40,
    })
    expect(rentByDay(stay(20_544, null), [], APRIL)).toMatchObject({ days: 30, unknownDays: 30 })
  })

  test('of unchanged terms entered again is that of the terms', () => {
    const day = fc.integer({ min: 0, max: 400 })
    fc.assert(
      fc.property(day, day, fc.uniqueArray(day, { maxLength: 5 }), (from, length, starts) => {
        const whole = { fromDay: 0, toDay: 400 }
        const again = [0, ...starts.filter((one) => one > 0)].map((validFromDay) => ({
          ...TERMS,
          validFromDay,
        }))
        const { unknownDays, rentMinor, demurrageMinor, ...charge } = rentByDay(
          stay(from, from + length),
          again,
          whole,
        )
        expect(charge).toEqual(rentOf(stay(from, from + length), TERMS, whole))
        expect([unknownDays, rentMinor + demurrageMinor]).toEqual([0, charge.amountMinor])
      }),
    )
  })
})

describe('a statement with three wrong rows', () => {
  const stays = [
    stay(20_544, null, 'A1'), // 500
    stay(20_539, null, 'A2'), // 625
    stay(20_544, 20_560, 'A3'), // 17 days, 7 at 25 = 175
    stay(20_544, null, 'A4'), // 500, in no row
  ]
  const checked = checkStatement({
    rows: [
      { row: 1, serial: 'A1', days: 30, amountMinor: 500 },
      { row: 2, serial: 'A2', days: 30, amountMinor: 750 },
      { row: 3, serial: 'A3', days: 30, amountMinor: 500 },
      { row: 4, serial: 'X9', days: 30, amountMinor: 500 },
      { row: 5, serial: 'A1', days: 30, amountMinor: 500 },
    ],
    stays,
    isOurs: (serial) => serial.startsWith('A'),
    termsOf: () => [{ ...TERMS, validFromDay: 0 }],
    period: APRIL,
    toleranceMinor: 1,
  })

  test('says of each what is wrong and how much to dispute', () => {
    expect(
      checked.rows.map(({ row, faults, disputeMinor }) => [row, faults, disputeMinor]),
    ).toEqual([
      [1, [], 0],
      [2, ['amount_differs'], 125],
      [3, ['days_differ', 'amount_differs'], 325],
      [4, ['not_ours'], 500],
      [5, ['twice'], 500],
    ])
    expect(checked.disputeMinor).toBe(1450)
    expect(checked.unasked).toEqual([{ serial: 'A4', amountMinor: 500 }])
  })

  test('disputes nothing where the agreement is not known', () => {
    const unknown = checkStatement({
      rows: [{ row: 1, serial: 'A1', days: 30, amountMinor: 500 }],
      stays: stays.slice(0, 1),
      isOurs: () => true,
      termsOf: () => [],
      period: APRIL,
      toleranceMinor: 1,
    })
    expect(unknown.rows[0]).toMatchObject({
      faults: ['terms_unknown'],
      disputeMinor: 0,
      oursMinor: null,
    })
  })
})
