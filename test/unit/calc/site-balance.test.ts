import { describe, expect, test, vi } from 'vitest'
import { cusumRunLength, ewmaRunLength } from '@/lib/calc/control-chart-run-length'
import { openTrail } from '@/lib/calc/hypotheses-system'
import type { Stretch, TrailReading } from '@/lib/calc/hypotheses-types'
import { lossChart, lossPlan, periodBalance, weeklyBalances, weekOf } from '@/lib/calc/site-balance'
import { Z_90 } from '@/lib/calc/stats'
import { type FaultKind, simulateCompany } from './trail-company'

// Whole companies are made up and explained: some seconds where the machine is busy.
vi.setConfig({ testTimeout: 60_000 })

const balancesOf = (seed: string, faults: FaultKind[], siteId = 'north') => {
  const { trail, planted } = simulateCompany(seed, faults)
  const here = {
    readings: trail.readings.filter((one) => one.siteId === siteId),
    works: trail.works.filter((one) => one.groupId === siteId),
  }
  const opened = openTrail(here)
  return { weeks: weeklyBalances(opened, opened.expected, here.readings), planted }
}

test('weeks begin on a Monday', () => {
  // 2026-01-05 is a Monday.
  expect(weekOf(Date.UTC(2026, 0, 5, 13))).toBe(Date.UTC(2026, 0, 5))
  expect(weekOf(Date.UTC(2026, 0, 11, 23, 59))).toBe(Date.UTC(2026, 0, 5))
})

describe('a site where nothing is wrong', () => {
  const { weeks } = balancesOf('calm balance', [])

  test('balances: nine in ten hold nought, and the sums add up', () => {
    const { left, expected, overWork, lost, unexplained } = periodBalance(weeks)
    expect(left.kg).toBeCloseTo(expected.kg + overWork.kg + lost.kg, 9)
    expect(unexplained.kg).toBeCloseTo(overWork.kg + lost.kg, 9)
    expect(left.kg).toBeGreaterThan(500)
    expect(Math.abs(lost.kg)).toBeLessThan(2 * (lost.high90Kg - lost.kg))
    expect(Math.abs(unexplained.kg)).toBeLessThan(2 * (unexplained.high90Kg - unexplained.kg))
  })

  test('never goes out of its chart', () => {
    const { points, signal } = lossChart(weeks, lossPlan(6))
    expect(points.length).toBeGreaterThan(10)
    expect(signal).toBeNull()
  })
})

test('a loss that begins goes out of the chart, and the onset is the week it began', () => {
  const none = { kg: 0, variance: 0 }
  const week = (n: number, kg: number) => ({
    fromMs: n * 7 * 86_400_000,
    used: none,
    expected: none,
    lost: { kg, variance: 1 },
  })
  // Ups and downs that come to nought, then 1.5 deviations a week.
  const weeks = Array.from({ length: 30 }, (_, n) => week(n, n < 15 ? (n % 2 ? 0.8 : -0.8) : 1.5))
  const plan = lossPlan(6)
  const { points, signal } = lossChart(weeks, plan)
  expect(signal?.onsetMs).toBe(weeks[15]?.fromMs)
  // 1.5 less k a week: out in the first week in which that passes h.
  const wanted = 15 + Math.ceil(plan.h / (1.5 - plan.k)) - 1
  expect(signal?.outMs).toBe(weeks[wanted]?.fromMs)
  // It is never set back by itself.
  expect(points.at(-1)?.state.isOut).toBe(true)
})

describe('a cylinder that is read each week', () => {
  const DAY_MS = 86_400_000
  const U = [0.3, 0.1, 0.2, 0.4, 0.5]
  const readings = U.map((standardUncertaintyKg, i) => ({
    id: `r${i}`,
    atMs: Date.UTC(2026, 0, 5) + 7 * i * DAY_MS,
    gasKg: 9 - i,
    standardUncertaintyKg,
  })) as unknown as TrailReading[]
  /** It stood for three weeks and was worked from in the last. */
  const stretches = readings.slice(1).map((one, i) => ({
    kind: i < 3 ? 'standing' : 'work',
    toMs: one.atMs,
    ends: [i + 1],
  })) as unknown as Stretch[]
  const before = Int32Array.from(readings, (_, i) => i - 1)
  const none = readings.slice(1).map(() => ({ kg: 0, variance: 0 }))
  const weeks = weeklyBalances(
    { stretches, before, stretchOf: before, fillings: before },
    none,
    readings,
  )
  const variance = ([first, last]: readonly [number, number]) =>
    (U[first] ?? 0) ** 2 + (U[last] ?? 0) ** 2
  const halfOf = ({ kg, high90Kg }: { kg: number; high90Kg: number }) => (high90Kg - kg) / Z_90

  // GUM 5.1.2: a sum of differences of neighbours is the first less the last; the readings between cancel.
  test.each([
    [0, { lost: [0, 3], left: [0, 4] }],
    [1, { lost: [1, 3], left: [1, 4] }],
    [2, { lost: [2, 3], left: [2, 4] }],
  ] as const)('is as sure from week %d on as its first and last reading', (from, ends) => {
    const { lost, left, overWork } = periodBalance(weeks.slice(from))
    expect(halfOf(lost) ** 2).toBeCloseTo(variance(ends.lost), 12)
    expect(halfOf(left) ** 2).toBeCloseTo(variance(ends.left), 12)
    expect(halfOf(overWork) ** 2).toBeCloseTo(variance([3, 4]), 12)
    expect(lost.kg).toBeCloseTo(3 - from, 12)
  })

  test('each week alone still has the doubt of both its readings', () => {
    expect(weeks.map((week) => week.lost.variance + week.used.variance)).toEqual(
      [0, 1, 2, 3].map((i) => expect.closeTo(variance([i, i + 1]), 12)),
    )
    const parts = weeks.map(({ toLast: _, ...week }) => week)
    expect(halfOf(periodBalance(parts).lost)).toBeGreaterThan(halfOf(periodBalance(weeks).lost))
  })
})

test('a leak of a cylinder is in the site’s loss for the period', () => {
  const { weeks } = balancesOf('leaky balance 1', ['leak_idle'])
  const { weeks: calm } = balancesOf('leaky balance 1', [])
  expect(periodBalance(weeks).lost.kg).toBeGreaterThan(periodBalance(calm).lost.kg + 1)
})

test('the plan bears one false alarm a year over all charts', () => {
  const { k, h } = lossPlan(12)
  // 12 charts of 52 weeks: a mean run of 624.
  expect(cusumRunLength({ k, h, shift: 0 })).toBeCloseTo(624, 0)
})

test.each([0.25, 1, 4])('the plan bears %d false alarms a year where that is chosen', (rate) => {
  const { k, h, average } = lossPlan(12, rate)
  expect(cusumRunLength({ k, h, shift: 0 }) / (624 / rate)).toBeCloseTo(1, 3)
  expect(ewmaRunLength({ ...average, shift: 0 }) / (624 / rate)).toBeCloseTo(1, 3)
})

test('the moving average goes on through a signal and settles at the loss', () => {
  const none = { kg: 0, variance: 0 }
  const weeks = Array.from({ length: 60 }, (_, n) => ({
    fromMs: n * 7 * 86_400_000,
    used: none,
    expected: none,
    lost: { kg: n < 20 ? 0 : 1.5, variance: 1 },
  }))
  const { points, plan } = lossChart(weeks, lossPlan(6))
  const { lambda, width } = plan.average
  // Limits of the settled average, NIST/SEMATECH e-Handbook 6.3.2.4.
  expect(points.at(-1)?.average.high).toBeCloseTo(width * Math.sqrt(lambda / (2 - lambda)), 6)
  expect(points.at(-1)?.average.average).toBeCloseTo(1.5, 3)
  expect(points.at(-1)?.average.isOut).toBe(true)
  expect(points[19]?.average.average).toBe(0)
})
