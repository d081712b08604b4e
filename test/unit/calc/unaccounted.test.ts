import { expect, test } from 'vitest'
import { accountFor, restDeviations } from '@/lib/calc/job-account'
import { normalInterval, Z_90 } from '@/lib/calc/stats'
import { costBetween, costOf, pricePerKg } from '@/lib/calc/unaccounted'

test('a kilogram costs what full cylinders cost, on average over sizes', () => {
  expect(
    pricePerKg([
      { nominalKg: 10, fillMinor: 4000 },
      { nominalKg: 5, fillMinor: 3000 },
    ]),
  ).toBe(500)
  expect(pricePerKg([])).toBeNull()
})

test('unaccounted gas costs its kilograms; what is there too much counts against it', () => {
  expect(costOf({ kg: 3, low90Kg: -1, high90Kg: 7 }, 500)).toEqual({
    minor: 1500,
    low90Minor: -500,
    high90Minor: 3500,
  })
})

test('costs add up, their doubts in quadrature', () => {
  // GUM 5.1.2: 300 and 400 either way are 500 together.
  const variance = (half: number) => (half / Z_90) ** 2
  const { minor, low90Minor, high90Minor } = costBetween({
    minor: 1000 - 200,
    variance: variance(300) + variance(400),
  })
  expect([minor, low90Minor, high90Minor].map((value) => Math.round(value))).toEqual([
    800, 300, 1300,
  ])
})

test('what an account leaves is told in its own deviations', () => {
  const interval = (mean: number, standardUncertainty: number) =>
    normalInterval({ mean, standardUncertainty })
  const account = accountFor({ estimate: interval(10, 3), usage: interval(15, 4), factor: null })
  // 15 − 10 beside the root of 3² and 4².
  expect(restDeviations(account)).toBeCloseTo(1, 9)
  expect(
    restDeviations(accountFor({ estimate: interval(10, 0), usage: interval(15, 0), factor: null })),
  ).toBe(0)
})
