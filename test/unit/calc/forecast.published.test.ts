import negativeBinomialQuantile from '@stdlib/stats-base-dists-negative-binomial-quantile'
import { describe, expect, test } from 'vitest'
import { type Demand, demandCdf, demandQuantile, expectedShortage } from '@/lib/calc/demand'
import {
  criticalRatio,
  expectedCost,
  orderUpToLevel,
  periodicReviewService,
} from '@/lib/calc/order-level'
import { plannedDemand } from '@/lib/calc/planned-demand'
import { statisticsVector } from './statistics-vector'

const poisson = (mean: number): Demand => ({ mean, variance: mean, kind: 'count' })
const normal = (mean: number, sd: number): Demand => ({ mean, variance: sd ** 2, kind: 'amount' })

describe('negative binomial by moments (scipy)', () => {
  const { inputs, expected } = statisticsVector('nb-lead-time')
  const demand: Demand = { ...inputs, kind: 'count' }

  test.each(Object.entries(expected.quantiles).map(([p, q]) => [Number(p), q]))(
    'quantile at %d is %d',
    (probability, quantile) => {
      expect(demandQuantile(demand, probability)).toBe(quantile)
    },
  )

  test('distribution function, first term and expected shortage agree', () => {
    expect(demandCdf(demand, 22)).toBeCloseTo(expected.cdf22, 9)
    expect(demandCdf(demand, 0)).toBeCloseTo(expected.pmf0, 9)
    expect(expectedShortage(demand, 20)).toBeCloseTo(expected.lossAt20, 9)
  })

  test('quantiles agree with an independent library over many shapes', () => {
    for (const mean of [0.2, 1, 7.5, 40, 300, 2500]) {
      for (const ratio of [1.05, 1.8, 6]) {
        for (const probability of [0.05, 0.275, 0.5, 0.725, 0.95, 0.99]) {
          const variance = mean * ratio
          const theirs = negativeBinomialQuantile(
            probability,
            mean ** 2 / (variance - mean),
            mean / variance,
          )
          expect(
            demandQuantile({ mean, variance, kind: 'count' }, probability),
            `${mean} ${ratio} ${probability}`,
          ).toBe(theirs + 0) // the library gives -0
        }
      }
    }
  })
})

describe('order levels', () => {
  // Snyder & Shen, Fundamentals of Supply Chain Theory, examples 4.1 to 4.3 and problem 4.3(b).
  test('newsvendor with normal demand', () => {
    const { inputs, expected } = statisticsVector('newsvendor-normal')
    for (const [i, { h, p, mean, sd }] of inputs.cases.entries()) {
      const costs = { holding: h, shortage: p }
      const demand = normal(mean, sd)
      const level = orderUpToLevel({ demand, service: criticalRatio(costs) })
      expect(level).toBeCloseTo(expected.S[i] ?? 0, 6)
      expect(expectedCost({ demand, level, costs })).toBeCloseTo(expected.cost[i] ?? 0, 6)
    }
    const at = (i: number, level: number) => {
      const { h, p, mean, sd } = inputs.cases[i] ?? { h: 0, p: 0, mean: 0, sd: 0 }
      return expectedCost({ demand: normal(mean, sd), level, costs: { holding: h, shortage: p } })
    }
    expect(at(0, 40)).toBeCloseTo(expected.costAt40, 6)
    expect(at(1, 1040)).toBeCloseTo(expected.costAt1040, 6)
  })

  // Example 4.7 and problem 4.8(a); a lead time L means demand over L + 1 periods.
  test('newsvendor with Poisson demand', () => {
    const { inputs, expected } = statisticsVector('newsvendor-poisson')
    for (const [i, { h, p, mean, leadTime }] of inputs.cases.entries()) {
      const costs = { holding: h, shortage: p }
      const demand = poisson(mean * ((leadTime ?? 0) + 1))
      const level = orderUpToLevel({ demand, service: criticalRatio(costs) })
      expect(level).toBe(expected.S[i])
      expect(expectedCost({ demand, level, costs })).toBeCloseTo(expected.cost[i] ?? 0, 6)
    }
    const [first] = inputs.cases
    const costs = { holding: first?.h ?? 0, shortage: first?.p ?? 0 }
    expect(expectedCost({ demand: poisson(first?.mean ?? 0), level: 5, costs })).toBeCloseTo(
      expected.costFirstAt5,
      6,
    )
  })

  // Example 4.4: normal demand over lead time and review.
  test('base stock with a lead time of four', () => {
    const { inputs, expected } = statisticsVector('base-stock-L4')
    const periods = inputs.leadTime + inputs.review
    const demand = normal(inputs.mean * periods, inputs.sd * Math.sqrt(periods))
    const costs = { holding: inputs.h, shortage: inputs.p }
    const level = orderUpToLevel({ demand, service: criticalRatio(costs) })
    expect(level).toBeCloseTo(expected.S, 6)
    expect(expectedCost({ demand, level, costs })).toBeCloseTo(expected.cost, 6)
    expect(expectedCost({ demand, level: 180, costs })).toBeCloseTo(expected.costAt180, 6)
  })

  test('periodic review: cycle service is not fill rate', () => {
    const { inputs, expected } = statisticsVector('RS-poisson-service')
    const { ratePerDay, reviewDays, leadTimeDays, S: level } = inputs
    const service = periodicReviewService({
      leadTimeDemand: poisson(ratePerDay * leadTimeDays),
      protectedDemand: poisson(ratePerDay * (leadTimeDays + reviewDays)),
      level,
    })
    expect(service.cycleService).toBeCloseTo(expected.cycleService, 8)
    expect(service.fillRate).toBeCloseTo(expected.fillRate, 8)
  })
})

test('planned tasks with shared factors and chances to run meet the published moments', () => {
  const { inputs, expected } = statisticsVector('blend-planned-baseline')
  const tasks = inputs.estimate.map((cylinders, i) => {
    const group = inputs.group[i] ?? 0
    return {
      cylinders,
      chance: inputs.probability[i] ?? 0,
      groupId: String(group),
      factorMean: inputs.factorMean[group] ?? 0,
      factorVariance: inputs.factorVariance[group] ?? 0,
      taskCv2: inputs.taskCv2,
    }
  })
  const moments = plannedDemand(tasks)
  expect(moments.mean).toBeCloseTo(expected.mean, 6)
  expect(moments.variance).toBeCloseTo(expected.variance, 6)
})
