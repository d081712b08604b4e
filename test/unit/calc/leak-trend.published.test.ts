import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { leakTrend } from '@/lib/calc/leak-trend'

// Anscombe, Graphs in Statistical Analysis, The American Statistician 27 (1973), first set, from
// memory: y = 3.00 + 0.500 x, sum of squares of x about its mean 110.
const ANSCOMBE = [
  [10, 8.04],
  [8, 6.95],
  [13, 7.58],
  [9, 8.81],
  [11, 8.33],
  [14, 9.96],
  [6, 7.24],
  [4, 4.26],
  [12, 10.84],
  [7, 4.82],
  [5, 5.68],
] as const
const points = (uKpa: number) => ANSCOMBE.map(([day, fallKpa]) => ({ day, fallKpa, uKpa }))

describe('leakTrend', () => {
  test('finds the published slope, and its uncertainty from equal ones: u / sqrt(110)', () => {
    const trend = leakTrend({ points: points(1) })
    if (trend.verdict === 'tooFew') throw new Error('eleven points are enough')
    expect(trend.slopeKpaPerDay).toBeCloseTo(0.5, 3)
    expect(trend.slopeUKpaPerDay).toBeCloseTo(1 / Math.sqrt(110), 12)
    expect(trend.verdict).toBe('rising')
  })

  test('says steady where the tests themselves are too uncertain to show it', () => {
    expect(leakTrend({ points: points(10) })).toMatchObject({ verdict: 'steady' })
  })

  test('wants three tests on two days', () => {
    expect(leakTrend({ points: points(1).slice(0, 2) })).toEqual({ verdict: 'tooFew' })
    expect(leakTrend({ points: [] })).toEqual({ verdict: 'tooFew' })
    const sameDay = [0, 1, 2].map((fallKpa) => ({ day: 4, fallKpa, uKpa: 1 }))
    expect(leakTrend({ points: sameDay })).toEqual({ verdict: 'tooFew' })
  })

  test.each([0, -1, Number.NaN, Infinity])('refuses an uncertainty of %d', (uKpa) => {
    expect(() => leakTrend({ points: points(uKpa) })).toThrow(
      expect.objectContaining({ code: 'OUT_OF_RANGE', field: 'uKpa' }),
    )
  })

  test('is the same whichever day is counted from, and gives back a straight line exactly', () => {
    const line = fc.record({
      slope: fc.double({ min: -5, max: 5, noNaN: true }),
      from: fc.integer({ min: -1000, max: 1000 }),
    })
    fc.assert(
      fc.property(line, ({ slope, from }) => {
        const on = [0, 3, 10, 40].map((day, i) => ({
          day: from + day,
          fallKpa: 2 + slope * day,
          uKpa: 1 + i / 4,
        }))
        const trend = leakTrend({ points: on })
        if (trend.verdict === 'tooFew') throw new Error('four points are enough')
        expect(trend.slopeKpaPerDay).toBeCloseTo(slope, 9)
      }),
    )
  })
})
