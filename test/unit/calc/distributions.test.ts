import fc from 'fast-check'
import { jStat } from 'jstat'
import { describe, expect, test } from 'vitest'
import {
  chiSquareAbove,
  cumulative,
  type Distribution,
  normalBeyond,
  quantile,
} from '@/lib/calc/distributions'
import { balanceVector } from './balance-vector'

const PROBABILITIES = [0.001, 0.01, 0.05, 0.25, 0.5, 0.9, 0.975, 0.995, 0.999]

test('chi-square, normal and t quantiles meet the published values', () => {
  const { expected } = balanceVector<
    object,
    { chi2_95: Record<string, number>; z975: number; t995_16: number }
  >('chi2-quantiles')
  for (const dof of [1, 3, 4, 6, 11])
    expect(quantile({ family: 'chi-square', dof }, 0.95)).toBeCloseTo(expected.chi2_95[dof] ?? 0, 8)
  const far = expected.chi2_95['1000_p99'] ?? 0
  expect(Math.abs(quantile({ family: 'chi-square', dof: 1000 }, 0.99) - far)).toBeLessThan(1e-6)
  expect(quantile({ family: 'normal', mean: 0, sd: 1 }, 0.975)).toBeCloseTo(expected.z975, 12)
  expect(quantile({ family: 't', dof: 16 }, 0.995)).toBeCloseTo(expected.t995_16, 8)
})

type Second = { cdf: (x: number) => number; inv: (p: number) => number; tolerance: number }

const continuous: [Distribution, Second][] = [
  [
    { family: 'normal', mean: 3, sd: 2 },
    {
      cdf: (x) => jStat.normal.cdf(x, 3, 2),
      inv: (p) => jStat.normal.inv(p, 3, 2),
      tolerance: 1e-8,
    },
  ],
  ...[1, 2, 7, 40, 300].map((dof): [Distribution, Second] => [
    { family: 'chi-square', dof },
    {
      cdf: (x) => jStat.chisquare.cdf(x, dof),
      inv: (p) => jStat.chisquare.inv(p, dof),
      tolerance: 1e-7,
    },
  ]),
  ...[2, 5, 16, 100].map((dof): [Distribution, Second] => [
    { family: 't', dof },
    {
      cdf: (x) => jStat.studentt.cdf(x, dof),
      inv: (p) => jStat.studentt.inv(p, dof),
      tolerance: 1e-7,
    },
  ]),
  [
    { family: 'gamma', shape: 3.5, rate: 0.25 },
    {
      cdf: (x) => jStat.gamma.cdf(x, 3.5, 4),
      inv: (p) => jStat.gamma.inv(p, 3.5, 4),
      tolerance: 1e-7,
    },
  ],
]

describe.each(continuous)('%j', (distribution, second) => {
  test('agrees with a second library', () => {
    for (const probability of PROBABILITIES) {
      const x = quantile(distribution, probability)
      const other = second.inv(probability)
      expect(Math.abs(x - other)).toBeLessThanOrEqual(second.tolerance * Math.max(1, Math.abs(x)))
      expect(cumulative(distribution, x)).toBeCloseTo(second.cdf(x), 8)
      expect(cumulative(distribution, x)).toBeCloseTo(probability, 8)
    }
  })
})

describe('counts', () => {
  test('Poisson and negative binomial agree with a second library', () => {
    for (let count = 0; count < 60; count += 1) {
      const poisson: Distribution = { family: 'poisson', mean: 17.3 }
      expect(cumulative(poisson, count)).toBeCloseTo(jStat.poisson.cdf(count, 17.3), 9)
      const negative: Distribution = { family: 'negative-binomial', size: 4, probability: 0.2 }
      expect(cumulative(negative, count)).toBeCloseTo(jStat.negbin.cdf(count, 4, 0.2), 9)
    }
  })

  test('the quantile is the least count that reaches its probability', () => {
    const families = fc.oneof(
      fc.record({
        family: fc.constant('poisson' as const),
        mean: fc.double({ min: 0.1, max: 80, noNaN: true }),
      }),
      fc.record({
        family: fc.constant('negative-binomial' as const),
        size: fc.double({ min: 0.3, max: 30, noNaN: true }),
        probability: fc.double({ min: 0.05, max: 0.95, noNaN: true }),
      }),
    )
    fc.assert(
      fc.property(families, fc.double({ min: 0.01, max: 0.999, noNaN: true }), (family, wanted) => {
        const count = quantile(family, wanted)
        expect(cumulative(family, count)).toBeGreaterThanOrEqual(wanted - 1e-12)
        if (count > 0) expect(cumulative(family, count - 1)).toBeLessThan(wanted + 1e-12)
      }),
      { numRuns: 200 },
    )
  })
})

test('tails keep their digits where one less the cumulative has none', () => {
  expect(chiSquareAbove(3.841458821, 1)).toBeCloseTo(0.05, 9)
  // With two degrees of freedom the tail is exp(−x/2).
  expect(chiSquareAbove(400, 2) / Math.exp(-200)).toBeCloseTo(1, 9)
  expect(normalBeyond(-1.959963984540054)).toBeCloseTo(0.05, 12)
})

test.each([
  [() => quantile({ family: 'normal', mean: 0, sd: 1 }, 1)],
  [() => quantile({ family: 'normal', mean: 0, sd: -1 }, 0.5)],
  [() => quantile({ family: 'chi-square', dof: -2 }, 0.5)],
  [() => cumulative({ family: 't', dof: 0 }, 1)],
  [() => cumulative({ family: 'poisson', mean: 2 }, Number.NaN)],
  [() => chiSquareAbove(-1, 2)],
])('what no distribution has is an error: %s', (call) => {
  expect(call).toThrow(/OUT_OF_RANGE|NOT_FINITE/)
})
