import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { learnBaseline } from '@/lib/calc/baseline-demand'
import { demandCdf } from '@/lib/calc/demand'
import { forecastSite, outlookOfSite } from '@/lib/calc/forecast'
import type { ForecastInput, PlannedTask, SiteForecast } from '@/lib/calc/forecast-types'

const task = (more: Partial<PlannedTask> = {}): PlannedTask => ({
  taskId: 't',
  cylinders: 4,
  chance: 1,
  groupId: 'crew',
  factorMean: 1,
  factorVariance: 0.01,
  taskCv2: 0.04,
  fromDay: 1,
  toDay: 4,
  ...more,
})
const site = (more: Partial<ForecastInput> = {}): ForecastInput => ({
  planned: [],
  baselineDailyCounts: Array.from({ length: 60 }, (_, i) => i % 2),
  stockCylinders: 6,
  horizonDays: 30,
  ...more,
})
const forecast = (input: ForecastInput): SiteForecast => {
  const outcome = forecastSite(input)
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusals))
  return outcome
}

describe('learnBaseline', () => {
  // d = 0.5^(1/90): after 90 empty days half of what was known remains, plus the sum of the discounts.
  test('a day counts half after ninety days', () => {
    const state = learnBaseline(Array(90).fill(0), { cylinders: 8, days: 100 })
    expect(state.cylinders).toBeCloseTo(4, 9)
    expect(state.days).toBeCloseTo(50 + 0.5 / (1 - 0.5 ** (1 / 90)), 9)
  })
})

describe('forecastSite', () => {
  test('half a cylinder a day empties six in about twelve days, and one in twenty within the week', () => {
    const result = forecast(site({ prior: { cylinders: 5, days: 10 } }))
    expect(result.baseline.meanPerDay).toBeCloseTo(0.5, 1)
    const middle = result.shortDayQuantiles.find((tooth) => tooth.probability === 0.5)?.day ?? 0
    expect(middle).toBeGreaterThanOrEqual(12)
    expect(middle).toBeLessThanOrEqual(15)
    expect(result.daysUntilShort).toBeGreaterThanOrEqual(5)
    expect(result.daysUntilShort).toBeLessThanOrEqual(8)
  })

  // The chance on the day named is at least the one chosen, and the day before it was less.
  test('days until short is the first day at the chosen chance', () => {
    const result = forecast(site({ chance: 0.1 }))
    const day = result.daysUntilShort ?? 0
    expect(result.days[day - 1]?.shortChance).toBeGreaterThanOrEqual(0.1)
    expect(result.days[day - 2]?.shortChance).toBeLessThan(0.1)
  })

  test('the chance of being short is that of demand above stock', () => {
    const [, , third] = forecast(site()).days
    const demand = {
      mean: third?.demandMean ?? 0,
      variance: third?.demandVariance ?? 0,
      kind: 'count' as const,
    }
    expect(third?.shortChance).toBeCloseTo(1 - demandCdf(demand, 6), 12)
  })

  test('planned work counts day by day as it is done', () => {
    const [plain, planned] = [forecast(site()), forecast(site({ planned: [task()] }))]
    const added = planned.days.map((day, i) => day.demandMean - (plain.days[i]?.demandMean ?? 0))
    expect(added.slice(0, 6)).toEqual(
      [1, 2, 3, 4, 4, 4].map((cylinders) => expect.closeTo(cylinders, 9)),
    )
    expect(planned.daysUntilShort ?? 99).toBeLessThan(plain.daysUntilShort ?? 0)
  })

  test('an order confirmed moves the day on which the site is short', () => {
    const ordered = forecast(site({ arrivals: [{ day: 3, cylinders: 6 }] }))
    expect(ordered.daysUntilShort ?? 99).toBeGreaterThan(forecast(site()).daysUntilShort ?? 0)
  })

  test('a site with plenty is not short within the horizon', () => {
    const result = forecast(site({ stockCylinders: 200 }))
    expect(result.daysUntilShort).toBeNull()
    expect(result.shortDayQuantiles.every((tooth) => tooth.day === null)).toBe(true)
    expect(result.orderUpTo.orderCylinders).toBe(0)
  })

  test('the order fills up to the level from what is there and coming', () => {
    const { orderUpTo } = forecast(site({ stockCylinders: 1, leadTimeDays: 5, reviewDays: 7 }))
    expect(orderUpTo).toMatchObject({
      overDays: 12,
      service: 0.95,
      orderCylinders: orderUpTo.level - 1,
    })
    expect(orderUpTo.cycleService).toBeGreaterThanOrEqual(0.95)
    expect(orderUpTo.fillRate).toBeGreaterThan(orderUpTo.cycleService)
    const costed = forecast(site({ costs: { holding: 1, shortage: 4 } })).orderUpTo
    expect(costed.service).toBe(0.8)
    expect(costed.expectedCost).toBeGreaterThan(0)
  })

  test('no history at all still gives an answer, from the documented default', () => {
    expect(forecast(site({ baselineDailyCounts: [] })).baseline).toMatchObject({
      cylinders: 0.5,
      days: 10,
    })
  })

  test.each<[Partial<ForecastInput>, string]>([
    [{ horizonDays: 0 }, 'horizonDays'],
    [{ horizonDays: 121 }, 'horizonDays'],
    [{ horizonDays: 2.5 }, 'horizonDays'],
    [{ stockCylinders: -1 }, 'stockCylinders'],
    [{ stockCylinders: Number.NaN }, 'stockCylinders'],
    [{ chance: 0 }, 'chance'],
    [{ baselineDailyCounts: [1, -1] }, 'baselineDailyCounts.1'],
    [{ planned: [task({ chance: 1.2 })] }, 'planned.0.chance'],
    [{ planned: [task({ fromDay: 3, toDay: 2 })] }, 'planned.0.toDay'],
    [{ arrivals: [{ day: 1.5, cylinders: 2 }] }, 'arrivals.0.day'],
  ])('refuses %j on %s', (more, field) => {
    expect(forecastSite(site(more))).toMatchObject({
      ok: false,
      refusals: [{ code: 'OUT_OF_RANGE', field }],
    })
  })
})

describe('outlookOfSite', () => {
  test('finds the same days as the whole forecast', () => {
    const inputs = fc.record({
      stockCylinders: fc.double({ min: 0, max: 60, noNaN: true }),
      chance: fc.constantFrom(0.05, 0.1, 0.27, 0.5),
      cylinders: fc.double({ min: 0.1, max: 40, noNaN: true }),
      arrivalDay: fc.integer({ min: 1, max: 30 }),
    })
    fc.assert(
      fc.property(inputs, ({ stockCylinders, chance, cylinders, arrivalDay }) => {
        const input = site({
          stockCylinders,
          chance,
          planned: [task({ cylinders }), task({ taskId: 'u', fromDay: 9, toDay: 20, chance: 0.6 })],
          arrivals: [{ day: arrivalDay, cylinders: 5 }],
        })
        const { daysUntilShort, shortDayQuantiles } = forecast(input)
        expect(outlookOfSite(input)).toEqual({ ok: true, daysUntilShort, shortDayQuantiles })
      }),
      { numRuns: 200 },
    )
  })

  test('refuses what the forecast refuses', () => {
    const bad = site({ stockCylinders: Number.NaN })
    expect(outlookOfSite(bad)).toEqual(forecastSite(bad))
  })
})
