import fc from 'fast-check'
import { expect, test } from 'vitest'
import { accountFor } from '@/lib/calc/job-account'
import { shareLeftByReadings } from '@/lib/calc/next-reading'
import { normalInterval } from '@/lib/calc/stats'

const amount = fc
  .record({
    mean: fc.double({ min: 0.1, max: 100, noNaN: true }),
    standardUncertainty: fc.double({ min: 0, max: 20, noNaN: true }),
  })
  .map((one) => normalInterval({ ...one, min: 0 }))
const factor = fc.record({
  mean: fc.double({ min: 0.5, max: 2, noNaN: true }),
  standardUncertainty: fc.double({ min: 0, max: 0.3, noNaN: true }),
})

test('estimate, allowance and rest add up to the use', () => {
  fc.assert(
    fc.property(amount, amount, fc.option(factor), (estimate, usage, known) => {
      const account = accountFor({ estimate, usage, factor: known })
      const sum = account.estimate.mean + account.allowance.mean + account.rest.mean
      expect(sum).toBeCloseTo(usage.mean, 9)
      // To the last digits: a square and its root round, and that of a doubt below 1e-154 is nought.
      const least = usage.standardUncertainty * (1 - 1e-12) - 1e-150
      expect(account.rest.standardUncertainty).toBeGreaterThanOrEqual(least)
    }),
  )
})

test('a crew at 1.2 of the table is allowed a fifth; doubts add in quadrature', () => {
  const account = accountFor({
    estimate: normalInterval({ mean: 10, standardUncertainty: 1 }),
    usage: normalInterval({ mean: 13, standardUncertainty: 0.5 }),
    factor: { mean: 1.2, standardUncertainty: 0.05 },
  })
  expect(account.allowance.mean).toBeCloseTo(2, 12)
  expect(account.rest.mean).toBeCloseTo(1, 12)
  // √(0.5² + (1.2 × 1)² + (10 × 0.05)²) = √(0.25 + 1.44 + 0.25).
  expect(account.rest.standardUncertainty).toBeCloseTo(Math.sqrt(1.94), 12)
  // With the use known exactly, the estimate's and the crew's part is left: √(1.69 / 1.94).
  expect(shareLeftByReadings(account)).toBeCloseTo(Math.sqrt(1.69 / 1.94), 12)
})

test('without a known factor nothing is allowed', () => {
  const even = normalInterval({ mean: 10, standardUncertainty: 1 })
  const { allowance } = accountFor({ estimate: even, usage: even, factor: null })
  expect(allowance).toMatchObject({ mean: 0, standardUncertainty: 0 })
  const sure = normalInterval({ mean: 10, standardUncertainty: 0 })
  expect(shareLeftByReadings(accountFor({ estimate: sure, usage: even, factor: null }))).toBe(0)
  expect(shareLeftByReadings(accountFor({ estimate: sure, usage: sure, factor: null }))).toBe(0)
})
