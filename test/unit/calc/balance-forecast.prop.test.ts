import fc from 'fast-check'
import { expect, test } from 'vitest'
import { balance } from '@/lib/calc/balance'
import { demandCdf, demandQuantile, demandQuantiles } from '@/lib/calc/demand'
import { forecastSite } from '@/lib/calc/forecast'
import { fitFalling } from '@/lib/calc/isotonic'

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const part = fc.record({ value: between(0, 20), variance: between(1e-4, 4) })
const parts = fc.array(part, { minLength: 1, maxLength: 8 })

test('the balance closes, nothing is negative and no variance grows', () => {
  fc.assert(
    fc.property(parts, between(0, 80), between(1e-4, 9), (given, value, variance) => {
      const solved = balance({ parts: given, total: { value, variance } })
      const sum = solved.parts.reduce((total, one) => total + one.value, 0)
      expect(Math.abs(sum - solved.total.value)).toBeLessThan(1e-9)
      for (const [i, one] of solved.parts.entries()) {
        expect(one.value).toBeGreaterThanOrEqual(0)
        expect(one.variance).toBeLessThanOrEqual(given[i]?.variance ?? 0)
      }
    }),
    { numRuns: 300 },
  )
})

test('scaling every variance leaves the balance and divides the statistic', () => {
  fc.assert(
    fc.property(parts, between(0, 80), between(0.2, 5), (given, value, scale) => {
      const scaled = given.map((one) => ({ ...one, variance: one.variance * scale }))
      const [plain, other] = [
        balance({ parts: given, total: { value, variance: 1 } }),
        balance({ parts: scaled, total: { value, variance: scale } }),
      ]
      expect(other.total.value).toBeCloseTo(plain.total.value, 8)
      expect(other.statistic * scale).toBeCloseTo(plain.statistic, 6)
    }),
    { numRuns: 150 },
  )
})

test('fitted contents never rise and keep their weighted sum', () => {
  const readings = fc.array(fc.record({ value: between(0, 10), weight: between(0.1, 400) }), {
    maxLength: 12,
  })
  fc.assert(
    fc.property(readings, (given) => {
      const fitted = fitFalling(given)
      for (const [i, value] of fitted.entries())
        expect(value).toBeLessThanOrEqual((fitted[i - 1] ?? Infinity) + 1e-12)
      const weigh = (values: number[]) =>
        values.reduce((sum, value, i) => sum + value * (given[i]?.weight ?? 0), 0)
      expect(weigh(fitted)).toBeCloseTo(weigh(given.map((one) => one.value)), 6)
    }),
    { numRuns: 200 },
  )
})

test('the quantile is the least count that covers its probability', () => {
  fc.assert(
    fc.property(
      between(0.01, 400),
      between(1, 8),
      between(0.01, 0.99),
      (mean, ratio, probability) => {
        const demand = { mean, variance: mean * ratio, kind: 'count' as const }
        const quantile = demandQuantile(demand, probability)
        expect(demandCdf(demand, quantile)).toBeGreaterThanOrEqual(probability - 1e-9)
        if (quantile > 0) expect(demandCdf(demand, quantile - 1)).toBeLessThan(probability)
      },
    ),
    { numRuns: 150 },
  )
})

test('quantiles asked for together are those asked for one by one', () => {
  fc.assert(
    fc.property(
      between(0, 400),
      between(1, 8),
      fc.array(between(0.01, 0.99), { maxLength: 6 }),
      fc.constantFrom('count' as const, 'amount' as const),
      (mean, ratio, given, kind) => {
        const probabilities = given.toSorted((a, b) => a - b)
        const demand = { mean, variance: mean * ratio, kind }
        expect(demandQuantiles(demand, probabilities)).toEqual(
          probabilities.map((probability) => demandQuantile(demand, probability)),
        )
      },
    ),
    { numRuns: 150 },
  )
})

test('refuses probabilities that fall', () => {
  const demand = { mean: 3, variance: 4, kind: 'count' as const }
  expect(() => demandQuantiles(demand, [0.5, 0.4])).toThrow(
    expect.objectContaining({ code: 'OUT_OF_RANGE', field: 'probability' }),
  )
})

test('demand grows by day, what is left is bounded, more stock is never sooner short', () => {
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 0, max: 5 }), { maxLength: 90 }),
      between(0, 40),
      between(0, 10),
      (counts, stock, more) => {
        const run = (stockCylinders: number) => {
          const result = forecastSite({
            planned: [],
            baselineDailyCounts: counts,
            stockCylinders,
            horizonDays: 21,
          })
          if (!result.ok) throw new Error('refused')
          return result
        }
        const result = run(stock)
        for (const [i, day] of result.days.entries()) {
          expect(day.demandMean).toBeGreaterThan(result.days[i - 1]?.demandMean ?? 0)
          for (const [q, left] of day.remainingQuantiles.entries()) {
            expect(left).toBeGreaterThanOrEqual(day.remainingQuantiles[q - 1] ?? 0)
            expect(left).toBeLessThanOrEqual(stock)
          }
          expect(day.shortChance).toBeGreaterThanOrEqual(0)
          expect(day.shortChance).toBeLessThanOrEqual(1)
        }
        expect(run(stock + more).daysUntilShort ?? 99).toBeGreaterThanOrEqual(
          result.daysUntilShort ?? 99,
        )
      },
    ),
    { numRuns: 60 },
  )
})
