import { describe, expect, test } from 'vitest'
import {
  formatAxisHour,
  formatClock,
  formatClockRange,
  formatDate,
  formatDay,
  formatWhen,
} from '@/lib/format/clock'
import { formatAboutDuration, formatDuration } from '@/lib/format/duration'
import {
  decimalsFor,
  formatAboutMoney,
  formatInterval,
  formatMoney,
  formatNumber,
} from '@/lib/format/numbers'
import {
  formatGas,
  formatQuantity,
  formatQuantityInterval,
  formatTemperature,
} from '@/lib/format/quantity'
import { atHourOfDay, startOfHour, zoneOffsetMs } from '@/lib/format/zone'

const NEW_YORK = { clock: '24', timeZone: 'America/New_York', units: 'us' } as const
const SI = { ...NEW_YORK, units: 'si' } as const
const spaced = (text: string) => text.replaceAll('\u00a0', ' ')
const at = (iso: string) => Date.parse(iso)

describe('clock times in the zone of the site', () => {
  const moment = at('2026-04-13T17:28:00Z')

  test('follow the person: 24 or 12 hours', () => {
    expect(formatClock(moment, NEW_YORK)).toBe('13:28')
    expect(spaced(formatClock(moment, { ...NEW_YORK, clock: '12' }))).toBe('1:28 pm')
    expect(spaced(formatClock(at('2026-04-13T04:05:00Z'), { ...NEW_YORK, clock: '12' }))).toBe(
      '12:05 am',
    )
    expect(formatClock(at('2026-04-13T04:05:00Z'), NEW_YORK)).toBe('00:05')
  })

  test('read as intervals and days', () => {
    expect(formatClockRange(moment, moment + 9 * 60_000, NEW_YORK)).toBe('13:28–13:37')
    expect(formatDay(moment, NEW_YORK)).toBe('Mon 13 Apr')
    expect(formatDate(at('2033-09-13T17:00:00Z'), NEW_YORK)).toBe('13 Sep 2033')
    expect(formatAxisHour(at('2026-04-13T12:00:00Z'), NEW_YORK)).toBe('8:00')
  })

  test('say only as much of the day as is needed', () => {
    expect(formatWhen(at('2026-04-13T18:20:00Z'), moment, NEW_YORK)).toBe('14:20')
    expect(formatWhen(at('2026-04-14T13:20:00Z'), moment, NEW_YORK)).toBe('Tue 09:20')
    expect(formatWhen(at('2026-04-17T13:20:00Z'), moment, NEW_YORK)).toBe('Fri 17 Apr')
    expect(formatWhen(at('2026-04-22T13:20:00Z'), moment, NEW_YORK)).toBe('22 Apr')
  })

  test('find the hours of the day that changes its clocks', () => {
    // 8 March 2026: New York goes from UTC-5 to UTC-4 at 02:00.
    const before = at('2026-03-08T05:30:00Z')
    expect(zoneOffsetMs(before, 'America/New_York')).toBe(-5 * 3_600_000)
    expect(atHourOfDay(before, 'America/New_York', 6)).toBe(at('2026-03-08T10:00:00Z'))
    expect(startOfHour(at('2026-04-13T17:28:00Z'), 'Asia/Kolkata')).toBe(at('2026-04-13T16:30:00Z'))
  })
})

describe('durations', () => {
  test.each([
    [182 * 60_000, '3 h 02'],
    [24 * 60_000, '24 min'],
    [23 * 60_000 + 1, '24 min'],
    [60 * 60_000, '1 h 00'],
    [45_000, '45 s'],
    [44_001, '45 s'],
    [0, '0 min'],
    [-5, '0 min'],
  ])('%d ms reads "%s"', (ms, text) => {
    expect(spaced(formatDuration(ms))).toBe(text)
  })

  test.each([
    [52 * 60_000, '52 min'],
    [3.5 * 3_600_000, '3 h 30'],
    [12.2 * 3_600_000, '12 h'],
    [5.4 * 86_400_000, '5 days'],
  ])('what is not certain is coarser: %d ms reads about "%s"', (ms, text) => {
    expect(spaced(formatAboutDuration(ms))).toBe(text)
  })
})

describe('numbers', () => {
  test('are grouped, never minus zero, with a real minus', () => {
    expect(formatNumber(1106.4)).toBe('1,106')
    expect(formatNumber(-0.2)).toBe('0')
    expect(formatNumber(-30)).toBe('−30')
    expect(() => formatNumber(Number.NaN)).toThrow(RangeError)
  })

  test('round an interval outwards', () => {
    expect(formatInterval(80.4, 91.2)).toBe('80–92')
    expect(formatInterval(80, 92)).toBe('80–92')
    expect(formatInterval(-9.2, 12)).toBe('−10 to 12')
    expect(formatInterval(-0.2, 12)).toBe('−1 to 12')
    expect(formatInterval(1.084, 1.249, 2)).toBe('1.08–1.25')
  })

  test('show about three figures', () => {
    expect([0.06, 2.16, 12.1, 152].map(decimalsFor)).toEqual([3, 2, 1, 0])
  })

  test('show money plainly, and what was computed to the nearest ten', () => {
    expect(formatMoney(41_000, 'USD')).toBe('$410')
    expect(formatMoney(41_050, 'USD')).toBe('$410.50')
    expect(formatAboutMoney(407, 'USD')).toBe('$410')
    expect(formatMoney(-3_000, 'USD')).toBe('−$30')
  })
})

describe('quantities', () => {
  test('are read in the units of the person', () => {
    expect(formatQuantity('length', 0.3048 * 22, NEW_YORK)).toEqual({ value: '22.0', unit: 'ft' })
    expect(formatQuantity('gaugePressure', 150 * 6.894757293168361, NEW_YORK)).toEqual({
      value: '150',
      unit: 'psi',
    })
    expect(formatQuantity('orifice', 0.0254 * 0.06, NEW_YORK)).toEqual({
      value: '0.060',
      unit: 'in',
    })
    expect(formatQuantity('mass', 610 * 0.45359237, SI)).toEqual({ value: '277', unit: 'kg' })
    expect(formatTemperature(289.261, NEW_YORK)).toEqual({ value: '61', unit: '°F' })
    expect(formatTemperature(289.261, SI)).toEqual({ value: '16', unit: '°C' })
  })

  test('carry an interval in the same unit', () => {
    const ft3 = 0.3048 ** 3
    expect(
      formatQuantityInterval(
        'gasVolume',
        { value: 86 * ft3, low: 80.2 * ft3, high: 91.5 * ft3 },
        NEW_YORK,
      ),
    ).toEqual({
      value: '86',
      unit: 'ft³',
      interval: '80–92',
    })
  })

  test('show kilograms of gas as volume at 70 °F and 1 atm', () => {
    const shown = formatGas({ gas: 'oxygen', kg: 1 }, NEW_YORK)
    // 12.08 ft³ a pound of oxygen at 70 °F and 1 atm: from memory, to about 0.1 %.
    expect(Number(shown.value)).toBeCloseTo(12.08 / 0.45359237, 0)
  })
})
