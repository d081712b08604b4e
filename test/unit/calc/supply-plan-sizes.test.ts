import { describe, expect, test } from 'vitest'
import {
  coverByDay,
  demandOfSize,
  outDayQuantiles,
  sizeShares,
} from '@/lib/calc/supply-plan-outlook'

describe('the sizes of a gas', () => {
  // Four of 10 kg and four of 5 kg came off: two thirds of the gas in large ones, a third in small ones. For one large
  // one's worth of gas that is two thirds of a large one and two thirds of a small one.
  test('share it by what came off, each by what it holds', () => {
    const [large = 0, small = 0] = sizeShares([
      { usableKg: 10, emptied: 4 },
      { usableKg: 5, emptied: 4 },
    ])
    expect(large).toBeCloseTo(2 / 3, 12)
    expect(small).toBeCloseTo(2 / 3, 12)
    expect(large * 10 + small * 5).toBeCloseTo(10, 12)
  })

  test('are all the one that is counted in while none came off', () => {
    const none = [
      { usableKg: 10, emptied: 0 },
      { usableKg: 5, emptied: 0 },
    ]
    expect(sizeShares(none)).toEqual([1, 0])
  })

  // A Poisson count thinned by a half is a Poisson count of half the mean.
  test('have the spread of a thinned count', () => {
    expect(demandOfSize([{ mean: 6, variance: 6 }], 0.5)).toEqual([{ mean: 3, variance: 3 }])
    expect(demandOfSize([{ mean: 6, variance: 9 }], 1)).toEqual([{ mean: 6, variance: 9 }])
    expect(demandOfSize([{ mean: 6, variance: 9 }], 0)).toEqual([{ mean: 0, variance: 0 }])
  })

  test('are covered up to where past misses of their class were', () => {
    const days = [{ mean: 2, variance: 2 }]
    const usual = coverByDay(days, { service: 0.95, openCylinders: 0 })
    const learned = coverByDay(days, { service: 0.95, openCylinders: 0, score: 4 })
    expect(usual.cover).toEqual([5])
    expect(learned.cover).toEqual([7]) // 2 + 4 √2, rounded down to whole cylinders
  })
})

describe('the day on which a gas runs out', () => {
  // A chance that rises by a quarter of one each day passes 5 % a fifth into the first, a half at the end of the second.
  test('lies within the day on which the chance passes each quantile', () => {
    expect(outDayQuantiles([0.25, 0.5, 0.75, 1])).toEqual([
      expect.closeTo(0.2, 12),
      expect.closeTo(1.1, 12),
      2,
      expect.closeTo(2.9, 12),
      expect.closeTo(3.8, 12),
    ])
  })

  test('is not known past the days that are looked at, and never before today', () => {
    expect(outDayQuantiles([0, 0.04])).toEqual([null, null, null, null, null])
    expect(outDayQuantiles([1, 1])).toEqual([0.05, 0.275, 0.5, 0.725, 0.95])
    // At six in the evening what is left of today is its last quarter.
    expect(outDayQuantiles([1, 1], 0.75)[2]).toBeCloseTo(0.875, 12)
  })
})
