import { expect, test } from 'vitest'
import {
  crewFactors,
  groupSums,
  shrink,
  standardisedDifference,
  varianceBetween,
  varianceWithin,
} from '@/lib/calc/crew-factor'
import { BATTING, balanceVector, HACHEMEISTER } from './balance-vector'

const GROUPS = ['1', '2', '3', '4', '5']
const sumsOf = (isWeighted: boolean) =>
  GROUPS.map((group) =>
    groupSums(
      HACHEMEISTER.filter((row) => row.group === group).map(({ ratio, weight }) => ({
        value: ratio,
        weight: isWeighted ? weight : 1,
      })),
    ),
  )

test('weighted credibility meets the published premiums', () => {
  const { expected } = balanceVector<
    object,
    { s2: number; a: number; collective: number; Z: number[]; premiums: number[] }
  >('eb-buhlmann-straub')
  const groups = sumsOf(true)
  const within = varianceWithin(groups)
  const between = varianceBetween(groups, within)
  expect(Math.abs(within / expected.s2 - 1)).toBeLessThan(1e-9)
  expect(Math.abs(between / expected.a - 1)).toBeLessThan(1e-8)
  const shrunk = shrink(groups, { within, between })
  expect(shrunk.collective).toBeCloseTo(expected.collective, 4)
  for (const [g, one] of shrunk.groups.entries()) {
    expect(one.credibility).toBeCloseTo(expected.Z[g] ?? 0, 6)
    expect(one.factor).toBeCloseTo(expected.premiums[g] ?? 0, 4)
  }
})

test('unweighted credibility meets the published figures', () => {
  const { expected } = balanceVector<
    object,
    { collective: number; within: number; between: number; Z: number }
  >('eb-buhlmann')
  const groups = sumsOf(false)
  const within = varianceWithin(groups)
  const between = varianceBetween(groups, within)
  expect(within).toBeCloseTo(expected.within, 4)
  expect(between).toBeCloseTo(expected.between, 4)
  const shrunk = shrink(groups, { within, between })
  expect(shrunk.collective).toBeCloseTo(expected.collective, 5)
  expect(shrunk.groups[0]?.credibility).toBeCloseTo(expected.Z, 8)
})

test('two levels meet the published premiums', () => {
  const { inputs, expected } = balanceVector<
    { cohort: number[] },
    {
      collective: number
      betweenCohort: number
      withinCohort: number
      withinState: number
      cohortPremium: number[]
      cohortZ: number[]
      statePremium: number[]
      stateZ: number[]
    }
  >('eb-hierarchical')
  const learned = crewFactors(
    HACHEMEISTER.map(({ group, ratio, weight }) => ({
      siteId: String(inputs.cohort[Number(group) - 1]),
      crewId: group,
      ratio,
      weight,
    })),
  )
  if (!learned.isLearned) throw new Error('not learned')
  expect(learned.company.factor).toBeCloseTo(expected.collective, -0.2)
  expect(Math.abs(learned.siteVariance - expected.betweenCohort)).toBeLessThan(0.5)
  expect(Math.abs(learned.crewVariance - expected.withinCohort)).toBeLessThan(0.5)
  for (const [i, site] of learned.sites.entries()) {
    expect(Math.abs(site.factor - (expected.cohortPremium[i] ?? 0))).toBeLessThanOrEqual(0.5)
    expect(Math.abs(site.credibility - (expected.cohortZ[i] ?? 0))).toBeLessThanOrEqual(5.1e-5)
  }
  for (const crew of learned.crews) {
    const state = Number(crew.crewId) - 1
    expect(Math.abs(crew.factor - (expected.statePremium[state] ?? 0))).toBeLessThanOrEqual(0.5)
    expect(Math.abs(crew.credibility - (expected.stateZ[state] ?? 0))).toBeLessThanOrEqual(5.1e-5)
  }
})

test('shrunk batting averages come 3.5 times as near as the raw ones', () => {
  const { expected } = balanceVector<
    object,
    {
      mean: number
      sumSquares: number
      c: number
      sseRaw: number
      sseShrunk: number
      ratio: number
    }
  >('eb-efron-morris')
  const raw = BATTING.map(({ hits }) => hits / 45)
  const { mean, squares } = groupSums(raw.map((value) => ({ value, weight: 1 })))
  expect(mean).toBeCloseTo(expected.mean, 8)
  const c = 1 - ((raw.length - 3) * ((mean * (1 - mean)) / 45)) / squares
  expect(c).toBeCloseTo(expected.c, 6)
  // Their credibility c is that of groups of weight 1 with s²/a = 1/c − 1.
  const { groups } = shrink(
    raw.map((value) => ({ mean: value, weight: 1 })),
    { within: 1 / c - 1, between: 1 },
  )
  const squaredError = (values: readonly number[]) =>
    values.reduce((sum, value, i) => sum + (value - (BATTING[i]?.later ?? 0)) ** 2, 0)
  expect(squaredError(raw)).toBeCloseTo(expected.sseRaw, 5)
  expect(squaredError(groups.map((one) => one.factor))).toBeCloseTo(expected.sseShrunk, 5)
  expect(expected.sseRaw / expected.sseShrunk).toBeCloseTo(expected.ratio, 4)
})

// By hand: sqrt(0.5 / 50 + 0.07²) = sqrt(0.0149), and 1.4 lies 0.22 above 1.18.
test('a job is compared with its crew’s factor by the doubt of both', () => {
  const known = { factor: 1.18, standardUncertainty: 0.07, withinVariance: 0.5 }
  expect(standardisedDifference({ ratio: 1.4, weight: 50 }, known)).toBeCloseTo(
    0.22 / Math.sqrt(0.0149),
    12,
  )
  expect(standardisedDifference({ ratio: 1.18, weight: 50 }, known)).toBe(0)
  expect(() => standardisedDifference({ ratio: 1, weight: 0 }, known)).toThrow('weight')
})
