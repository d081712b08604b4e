import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { type Demand, expectedShortage } from '@/lib/calc/demand'
import { criticalRatio, orderUpToLevel } from '@/lib/calc/order-level'
import { bestMinMax, minMaxCost, quickMinMax } from '@/lib/calc/order-min-max'
import {
  lotsForDays,
  orderingCost,
  orderQuantity,
  quantityAtBreaks,
  quantityPastBreaks,
  quantityWithWaiting,
  wholeOrder,
} from '@/lib/calc/order-size'
import { cylindersToKeep, keepingCost } from '@/lib/calc/rent-or-run-out'
import {
  bestPointAndQuantity,
  leadTimeMoments,
  pointAndQuantityCost,
  pointAndQuantityQuick,
  pointForFillRate,
  pointForQuantity,
  pointForService,
} from '@/lib/calc/reorder-point'

// Each vector carries its source, and whether it was read, computed elsewhere or is from memory.
const vectors = JSON.parse(readFileSync('test/vectors/calc/inventory.json', 'utf8'))
const vector = (id: string) => vectors.find((row: { id: string }) => row.id === id)
const poisson = (mean: number): Demand => ({ mean, variance: mean, kind: 'count' })
const normal = (mean: number, sd: number): Demand => ({ mean, variance: sd ** 2, kind: 'amount' })

describe('how much to order at once', () => {
  test('where ordering and holding balance', () => {
    const { inputs, expected } = vector('eoq-3.1')
    const terms = { demand: inputs.demand, fixedCost: inputs.K, holding: inputs.h }
    const { quantity, cost } = orderQuantity(terms)
    expect(quantity).toBeCloseTo(expected.Q, 6)
    expect(cost).toBeCloseTo(expected.cost, 6)
    expect(orderingCost(terms, 250)).toBeCloseTo(expected.costAtQ250, 6)
  })

  test.each([
    ['eoq-allunits', quantityAtBreaks],
    ['eoq-incremental', quantityPastBreaks],
  ] as const)('with quantity breaks: %s', (id, best) => {
    const { inputs, expected } = vector(id)
    for (const [i, one] of inputs.cases.entries()) {
      const breaks = one.breaks.map((from: number, at: number) => ({ from, price: one.price[at] }))
      const terms = { demand: one.demand, fixedCost: one.K, holdingShare: one.i }
      const { quantity, cost } = best(terms, breaks)
      expect(quantity).toBeCloseTo(expected.Q[i], 4)
      expect(cost).toBeCloseTo(expected.cost[i], 4)
    }
  })

  test('where a crew may wait', () => {
    const { inputs, expected } = vector('eoq-backorders')
    for (const [i, { K, h, p, demand }] of inputs.cases.entries()) {
      const found = quantityWithWaiting({ demand, fixedCost: K, holding: h }, p)
      expect(found.quantity).toBeCloseTo(expected.Q[i], 3)
      expect(found.shortShare).toBeCloseTo(expected.shortFraction[i], 6)
      expect(found.cost).toBeCloseTo(expected.cost[i], 3)
      if (i === 1) expect(found.mostShort).toBeCloseTo(expected.maxShortage2, 2)
    }
  })

  test('for known work, day by day', () => {
    const { inputs, expected } = vector('wagner-whitin')
    for (const [i, { h, K, demand }] of inputs.cases.entries()) {
      const { orders, cost } = lotsForDays(demand, { fixedCost: K, holding: h })
      expect(cost).toBeCloseTo(expected.cost[i], 6)
      if (expected.orders[i]) expect(orders).toEqual(expected.orders[i])
    }
  })

  test('in whole cylinders and pallets, the rounding shown', () => {
    const need = { amount: 21, perCylinder: 4 }
    expect(wholeOrder(need, 1)).toEqual({ cylinders: 6, beyond: 3 })
    expect(wholeOrder(need, 4)).toEqual({ cylinders: 8, beyond: 11 })
    expect(wholeOrder({ amount: -3, perCylinder: 4 }, 1)).toEqual({ cylinders: 0, beyond: 0 })
  })
})

describe('what a level leaves short', () => {
  test('normal, printed in tables', () => {
    const { inputs, expected } = vector('loss-normal')
    // A demand far from nought moved by z: levels must not be below nought.
    const lossAt = (z: number) => expectedShortage(normal(100, 1), 100 + z)
    for (const [i, z] of inputs.z.entries()) expect(lossAt(z)).toBeCloseTo(expected.L[i], 8)
    for (const [z, printed] of Object.entries(expected.tablePrinted))
      expect(lossAt(Number(z))).toBeCloseTo(printed as number, 4)
  })

  test('Poisson', () => {
    const { inputs, expected } = vector('loss-poisson')
    for (const [i, [level, mean]] of inputs.cases.entries()) {
      const short = expectedShortage(poisson(mean), level)
      expect(short).toBeCloseTo(expected.loss[i], 8)
      expect(level - mean + short).toBeCloseTo(expected.complement[i], 8)
    }
  })
})

describe('when to order, and how much', () => {
  const { inputs, expected } = vector('rQ-normal')
  const sd = inputs.annualSd * Math.sqrt(inputs.leadTimeYears)
  const terms = {
    leadTime: normal(inputs.annualMean * inputs.leadTimeYears, sd),
    ratePerTime: inputs.annualMean,
    fixedCost: inputs.K,
    costs: { holding: inputs.h, shortage: inputs.p },
  }

  test('normal demand: exact costs, best point for a quantity, best of both', () => {
    const costAt = (point: number, quantity: number) =>
      pointAndQuantityCost(terms, { point, quantity })
    expect(costAt(126.8, 328.5)).toBeCloseTo(expected.costExact.at126_8_328_5, 6)
    expect(costAt(100, 250)).toBeCloseTo(expected.costExact.at100_250, 6)
    for (const [quantity, point] of expected.rForQ)
      expect(pointForQuantity(terms, quantity)).toBeCloseTo(point, 4)
    const best = bestPointAndQuantity(terms)
    expect(best.cost).toBeCloseTo(expected.optimumRecomputed.cost, 5)
    expect(best.point).toBeCloseTo(expected.optimumRecomputed.r, 2)
    expect(best.quantity).toBeCloseTo(expected.optimumRecomputed.Q, 2)
  })

  test('normal demand: the three quick rules', () => {
    const quick = pointAndQuantityQuick(terms)
    expect(quick.point).toBeCloseTo(expected.eil.r, 3)
    expect(quick.quantity).toBeCloseTo(expected.eil.Q, 3)
    expect(quick.cost).toBeCloseTo(expected.eil.cost, 3)
    const plain = { demand: inputs.annualMean, fixedCost: inputs.K, holding: inputs.h }
    const { quantity } = quantityWithWaiting(plain, inputs.p)
    expect(quantity).toBeCloseTo(expected.eoqb.Q, 4)
    expect(pointForQuantity(terms, quantity)).toBeCloseTo(expected.eoqb.r, 3)
    expect(orderQuantity(plain).quantity).toBeCloseTo(expected.eoqss.Q, 6)
    const service = criticalRatio(terms.costs)
    expect(orderUpToLevel({ demand: terms.leadTime, service })).toBeCloseTo(expected.eoqss.r, 6)
  })

  test('Poisson demand', () => {
    const { inputs: given, expected: printed } = vector('rQ-poisson')
    const all = given.cases.map(
      ({ h, p, K, rate, leadTime }: Record<'h' | 'p' | 'K' | 'rate' | 'leadTime', number>) => ({
        leadTime: poisson(rate * leadTime),
        ratePerTime: rate,
        fixedCost: K,
        costs: { holding: h, shortage: p },
      }),
    )
    const best = bestPointAndQuantity(all[0])
    expect(best).toMatchObject({ point: printed.optimal[0].r, quantity: printed.optimal[0].Q })
    expect(best.cost).toBeCloseTo(printed.optimal[0].cost, 6)
    for (const [i, [point, quantity, cost]] of printed.costAt.entries())
      expect(pointAndQuantityCost(all[i === 0 ? 0 : 1], { point, quantity })).toBeCloseTo(cost, 6)
  })

  test('a point by cycle service, by lead time that varies, and by fill rate', () => {
    const { rop, ss } = vector('reorder-point-scperf').inputs
    const moments = leadTimeMoments(
      { mean: rop.mean, variance: rop.sd ** 2 },
      { mean: rop.leadTime, variance: 0 },
    )
    const answer = vector('reorder-point-scperf').expected
    expect(pointForService({ ...moments, kind: 'amount' }, rop.service).point).toBeCloseTo(
      answer.rop,
      5,
    )
    const spare = normal(10, ss.sd * Math.sqrt(ss.leadTime))
    expect(pointForService(spare, ss.service).safety).toBeCloseTo(answer.ss, 5)
    const fill = vector('sQ-fillrate-SPP')
    const leadTime = normal(fill.inputs.leadTimeMean, fill.inputs.leadTimeSd)
    const order = { quantity: fill.inputs.Q, fillRate: fill.inputs.fillRate }
    expect(pointForFillRate(leadTime, order)).toBeCloseTo(fill.expected.s, 5)
    expect(Math.ceil(pointForFillRate(leadTime, order))).toBe(fill.expected.sPrinted)
    expect(pointForFillRate(leadTime, order, true)).toBeCloseTo(fill.expected.s, 3)
  })

  test('a lead time of its own spread: four days, give or take one', () => {
    // Textbook form; 4 × 9 + 5² × 1.
    const moments = leadTimeMoments({ mean: 5, variance: 9 }, { mean: 4, variance: 1 })
    expect(moments).toEqual({ mean: 20, variance: 61 })
  })
})

describe('minimum and maximum', () => {
  test('all 24 published optima', () => {
    const { inputs, expected } = vector('sS-zheng-federgruen')
    for (const [i, mean] of inputs.mu.entries()) {
      const best = bestMinMax({
        demand: poisson(mean),
        period: poisson(mean),
        fixedCost: inputs.K,
        costs: { holding: inputs.h, shortage: inputs.p },
      })
      expect([best.min, best.max], `mean ${mean}`).toEqual([expected.s[i], expected.S[i]])
      expect(best.cost).toBeCloseTo(expected.cost[i], 3)
    }
  })

  test('two small ones, and the power approximation', () => {
    const { inputs, expected } = vector('sS-small')
    const all = inputs.cases.map(({ h, p, K, mu }: Record<'h' | 'p' | 'K' | 'mu', number>) => ({
      demand: poisson(mu),
      period: poisson(mu),
      fixedCost: K,
      costs: { holding: h, shortage: p },
    }))
    for (const [i, { s, S, cost }] of expected.optimal.entries()) {
      const best = bestMinMax(all[i])
      expect(best).toMatchObject({ min: s, max: S })
      expect(best.cost).toBeCloseTo(cost, 6)
    }
    expect(minMaxCost(all[0], { min: 6, max: 18 })).toBeCloseTo(expected.costAt6_18, 6)
    for (const [i, { h, p, K, mean, sd }] of inputs.power.entries()) {
      const demand = normal(mean, sd)
      const costs = { holding: h, shortage: p }
      const { min, max } = quickMinMax({ demand, period: demand, fixedCost: K, costs })
      expect(min).toBeCloseTo(expected.power[i][0], 5)
      expect(max).toBeCloseTo(expected.power[i][1], 5)
    }
  })
})

describe('rent against running out', () => {
  const { inputs, expected } = vector('rental-demurrage-marginal')
  const terms = {
    ratePerDay: inputs.ratePerDay,
    rentPerDay: inputs.rentalPerDay,
    demurragePerDay: inputs.demurragePerDay,
    freeDays: inputs.freeDays,
  }

  test('what the fifth cylinder costs until it is needed', () => {
    const kept = keepingCost(terms, inputs.n)
    expect(kept.days).toBeCloseTo(expected.expectedDays, 8)
    expect(kept.daysPastFree).toBeCloseTo(expected.expectedDaysBeyondFree, 8)
    expect(kept.cost).toBeCloseTo(expected.expectedCost, 8)
  })

  test('each is kept until a stand-still costs less', () => {
    const untilDelivery = poisson(3)
    const kept = cylindersToKeep(terms, { cost: 120, untilDelivery }, 20)
    const pays = (nth: number) => {
      const chance = expectedShortage(untilDelivery, nth - 1) - expectedShortage(untilDelivery, nth)
      return keepingCost(terms, nth).cost < 120 * chance
    }
    expect(kept).toBeGreaterThan(0)
    expect(Array.from({ length: kept }, (_, i) => pays(i + 1))).not.toContain(false)
    expect(pays(kept + 1)).toBe(false)
    expect(cylindersToKeep(terms, { cost: 0, untilDelivery }, 20)).toBe(0)
    expect(cylindersToKeep(terms, { cost: 1e6, untilDelivery }, 4)).toBe(4)
  })
})
