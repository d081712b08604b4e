import { describe, expect, test } from 'vitest'
import {
  type SupplyYear,
  sameEveryWeek,
  simulateSite,
  whenOneIsLeft,
} from '@/lib/calc/supply-simulation'
import { byPlan, siteYear, usualWeek } from './supply-year'

const cell = { full: 2, fillCost: 100, rentPerDay: 1 }

describe('days at one site', () => {
  test('counted by hand: two cylinders, one and a half a day, a truck on the third day', () => {
    const site = { cells: [cell], visitCost: 50, demand: [[1.5, 1.5, 1.5]] }
    const year = simulateSite(site, ({ day }) => (day === 0 ? [{ day: 2, quantities: [2] }] : []))
    // Day 1: two put on, half left. Day 2: that half, one short. Day 3: two come, half left.
    expect(year).toEqual({
      runOuts: 1,
      shortCylinders: 1,
      visits: 1,
      ordered: 2,
      idleCylinderDays: 0,
      // The truck and two fills; rent of what hangs there, is full or empty: 2, then 2, then 3.
      cost: 50 + 2 * 100 + 2 + 2 + 3,
    })
  })

  test('a rule can not order into the past', () => {
    const site = { cells: [cell], visitCost: 50, demand: [[0, 0]] }
    expect(() => simulateSite(site, ({ day }) => [{ day: day - 1, quantities: [1] }])).toThrow(
      expect.objectContaining({ code: 'OUT_OF_RANGE' }),
    )
  })

  test('the two rules of thumb', () => {
    const one = whenOneIsLeft([4], (day) => day + 2)
    const morning = { open: [0], empty: [0], coming: [], day: 7 }
    expect(one({ ...morning, full: [2] })).toEqual([])
    expect(one({ ...morning, full: [1] })).toEqual([{ day: 9, quantities: [4] }])
    expect(one({ ...morning, full: [1], coming: [{ day: 8, quantities: [4] }] })).toEqual([])
    const same = sameEveryWeek([4], (day) => day + 2)
    expect(same({ ...morning, full: [9] })).toEqual([{ day: 9, quantities: [4] }])
    expect(same({ ...morning, day: 8, full: [0] })).toEqual([])
  })
})

/** What a crew that stands still for want of a cylinder costs a day: the house figure of the plan. */
const RUN_OUT_MINOR = 40_000
const allOf = (year: SupplyYear) => year.cost + RUN_OUT_MINOR * year.shortCylinders
const each = (year: SupplyYear) => year.cost / year.ordered

test('a year under the plan: at most a third of the run-outs of either rule of thumb, at no higher cost', () => {
  const sums = [0, 1].map((at) => {
    const year = siteYear('test', at)
    const usual = usualWeek(year)
    return [
      byPlan(year),
      whenOneIsLeft(usual, year.nextTruck),
      sameEveryWeek(usual, year.nextTruck),
    ].map((rule) => simulateSite(year.site, rule))
  })
  const [plan, ...thumbs] = [0, 1, 2].map((rule) =>
    sums
      .map((site) => site[rule] as SupplyYear)
      .reduce((a, b) => ({
        runOuts: a.runOuts + b.runOuts,
        shortCylinders: a.shortCylinders + b.shortCylinders,
        visits: a.visits + b.visits,
        ordered: a.ordered + b.ordered,
        idleCylinderDays: a.idleCylinderDays + b.idleCylinderDays,
        cost: a.cost + b.cost,
      })),
  )
  if (!plan) throw new Error('no plan')
  for (const thumb of thumbs) {
    expect(thumb.runOuts).toBeGreaterThan(20)
    expect(plan.runOuts).toBeLessThanOrEqual(thumb.runOuts / 3)
    expect(allOf(plan)).toBeLessThanOrEqual(allOf(thumb))
    // Gas that a crew never got is no saving: what each cylinder cost that came.
    expect(each(plan)).toBeLessThanOrEqual(each(thumb))
  }
})
