import { describe, expect, test } from 'vitest'
import { WEAK_PRIOR } from '@/lib/calc/baseline-demand'
import { conformalBound } from '@/lib/calc/conformal'
import { demandQuantile } from '@/lib/calc/demand'
import { forecastSite } from '@/lib/calc/forecast'
import {
  classRules,
  coveredBound,
  learnUnplanned,
  unplannedDemand,
  widening,
} from '@/lib/calc/learned-demand'
import { pastWindows, unplannedOnly } from '@/lib/calc/past-windows'
import { shareDoneBy } from '@/lib/calc/planned-demand'
import { openChance } from '@/seed/random'

const chance = openChance('learned demand')
/** Now and then a burst of three to six: a count of more spread than chance alone has. */
const bursts = (days: number) =>
  Array.from({ length: days }, () => (chance.happens(0.08) ? chance.whole(3, 6) : 0))
const SERIES = Array.from({ length: 30 }, () => bursts(90))
const WINDOWS = SERIES.flatMap((series) => pastWindows(unplannedOnly(series), 7).slice(20))

describe('classRules', () => {
  test('every class that was seen has a method and, with enough windows, a score', () => {
    const rules = classRules(WINDOWS)
    expect(rules.reduce((sum, rule) => sum + rule.windows, 0)).toBe(WINDOWS.length)
    for (const rule of rules) {
      expect(rule.method).not.toBe('zero')
      if (rule.windows >= 19) expect(rule.score).not.toBeNull()
    }
  })

  // Bounds that were learned on one half of the series hold on the other: split conformal, so 0.95 less chance.
  test('bounds read at the score of their class hold nineteen times in twenty on series they never saw', () => {
    const rules = classRules(WINDOWS)
    const others = Array.from({ length: 60 }, () => bursts(90))
    const seen = { held: 0, windows: 0 }
    for (const series of others)
      for (const origin of [41, 48, 55, 62, 69, 76, 83]) {
        const { demandClass, usual } = learnUnplanned(series.slice(0, origin), rules, WEAK_PRIOR)
        const score = rules.find((rule) => rule.demandClass === demandClass)?.score ?? null
        const came = series.slice(origin, origin + 7).reduce((sum, one) => sum + one, 0)
        seen.windows += 1
        if (came <= coveredBound(unplannedDemand(usual, 7), { service: 0.95, score }))
          seen.held += 1
      }
    expect(seen.held / seen.windows).toBeGreaterThan(0.93)
    expect(seen.held / seen.windows).toBeLessThan(0.98)
  })
})

describe('past misses', () => {
  const CASES = [
    [2, 2, 3],
    [0.4, 0.6, 5],
    [10, 14, 1],
    [6, 6, -1],
  ] as const
  const highOf = (mean: number, variance: number) =>
    demandQuantile({ mean, variance, kind: 'count' }, 0.95)

  test('raise what is covered to where they were, and never lower it', () => {
    for (const [mean, variance, score] of CASES) {
      const bound = coveredBound({ mean, variance }, { service: 0.95, score })
      expect(bound).toBeGreaterThanOrEqual(conformalBound({ mean, variance, score }))
      expect(bound).toBeGreaterThanOrEqual(highOf(mean, variance))
    }
    expect(coveredBound({ mean: 2, variance: 2 }, { service: 0.95, score: null })).toBe(
      highOf(2, 2),
    )
  })

  test('make what is drawn wider, not narrower', () => {
    for (const [mean, variance, score] of CASES) {
      const factor = widening({ mean, variance }, score)
      expect(factor).toBeGreaterThanOrEqual(1)
      expect(highOf(mean, factor * variance)).toBeGreaterThanOrEqual(highOf(mean, variance))
    }
    expect(widening({ mean: 2, variance: 2 }, 3)).toBeGreaterThan(1)
    expect(widening({ mean: 2, variance: 2 }, null)).toBe(1)
  })
})

describe('learnUnplanned', () => {
  test('a site without history starts where sites like it are', () => {
    const like = { cylinders: 30, days: 60 }
    const { demandClass, method, usual } = learnUnplanned([], [], like)
    expect([demandClass, method]).toEqual(['sparse', 'rate'])
    expect(usual.meanPerDay).toBeCloseTo(0.5, 9)
  })

  test('is what the forecast of a site counts with', () => {
    const usual = { meanPerDay: 2, variancePerDay: 3, variancePerDaySquared: 0 }
    const input = { planned: [], baselineDailyCounts: [], stockCylinders: 5, horizonDays: 4 }
    const forecast = forecastSite({ ...input, unplanned: usual, widenBy: 1.5 })
    if (!forecast.ok) throw new Error('refused')
    expect(forecast.days[3]?.demandMean).toBeCloseTo(8, 9)
    expect(forecast.days[3]?.demandVariance).toBeCloseTo(18, 9)
  })
})

describe('planned work in the past', () => {
  test('counts in each window’s forecast, and all that came judges it', () => {
    const days = 20
    const planned = Array.from({ length: days }, (_, day) => (day >= 10 ? 1 : 0))
    const history = { unplanned: new Array<number>(days).fill(0), planned, came: planned }
    const last = pastWindows(history, 5).at(-1)
    expect(last?.total).toBe(5)
    expect(Math.max(...Array.from(last?.means ?? []))).toBeGreaterThanOrEqual(5)
    expect(last?.means[0]).toBe(5)
  })
})

describe('a job that may begin late', () => {
  // Four days, one chance in two of beginning two days late: by its second day half of a half, or nothing.
  test('has done its share over the days by which it may', () => {
    const task = { fromDay: 1, toDay: 4, lateChances: [0.5, 0, 0.5] }
    expect(shareDoneBy(task, 2)).toEqual({ mean: 0.25, meanSquare: 0.125 })
    expect(shareDoneBy(task, 4)).toEqual({ mean: 0.75, meanSquare: 0.625 })
    expect(shareDoneBy(task, 6)).toEqual({ mean: 1, meanSquare: 1 })
  })
})
