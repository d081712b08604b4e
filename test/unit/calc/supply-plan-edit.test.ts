import { describe, expect, test } from 'vitest'
import { changedPlan, itemKey, planItems, planWithout } from '@/lib/calc/supply-plan-edit'
import {
  chanceOutByDay,
  coverByDay,
  dayOfChance,
  leftByDay,
  withMoreWork,
} from '@/lib/calc/supply-plan-outlook'
import type { SupplyPlan } from '@/lib/calc/supply-plan-types'

const oxygen = (quantity: number) => ({ gasId: 'oxygen', sizeId: 'ox', quantity })
const fuel = (quantity: number) => ({ gasId: 'propane', sizeId: 'pr', quantity })
const plan: SupplyPlan = {
  orders: [{ supplierId: 's', siteId: 'mill', day: 2, lines: [oxygen(4), fuel(1)] }],
  moves: [{ routeId: 'yard>mill', day: 0, papers: false, lines: [oxygen(2)] }],
  returns: [{ siteId: 'mill', day: 2, lines: [oxygen(3)] }],
}
const order = 'order.2.mill.s'

describe('a plan that somebody changes', () => {
  test('stands by day, trips first, and each line has a name of its own', () => {
    expect(planItems(plan).map(itemKey)).toEqual(['move.0.yard>mill', order, 'return.2.mill'])
  })

  test('another number of one size leaves the rest', () => {
    const { orders, moves, returns } = changedPlan(plan, [
      { key: order, sizeId: 'ox', quantity: 6 },
    ])
    expect(orders).toEqual([{ ...plan.orders[0], lines: [oxygen(6), fuel(1)] }])
    expect({ moves, returns }).toEqual({ moves: plan.moves, returns: plan.returns })
  })

  test('without its order no truck comes, and nothing goes back with it', () => {
    expect(planWithout(plan, order)).toEqual({ orders: [], moves: plan.moves, returns: [] })
    expect(changedPlan(plan, [{ key: order, sizeId: null, quantity: 0 }])).toEqual(
      planWithout(plan, order),
    )
    const none = [oxygen(0), fuel(0)].map(({ sizeId }) => ({ key: order, sizeId, quantity: 0 }))
    expect(changedPlan(plan, none)).toEqual(planWithout(plan, order))
  })

  test('a line that is not there changes nothing', () => {
    expect(changedPlan(plan, [{ key: 'order.9.mill.s', sizeId: null, quantity: 0 }])).toEqual(plan)
    expect(changedPlan(plan, [{ key: order, sizeId: 'other', quantity: 9 }])).toEqual(plan)
  })
})

describe('what a plan looks at', () => {
  // Poisson of mean 6: 0.9574 at 10, 0.9161 at 9 (printed in every table of it).
  const days = [
    { mean: 0, variance: 0 },
    { mean: 6, variance: 6 },
  ]

  test('covers the high end of use, less what hangs open', () => {
    expect(coverByDay(days, { service: 0.95, openCylinders: 0 })).toEqual({
      used: [0, 6],
      cover: [0, 10],
    })
    expect(coverByDay(days, { service: 0.95, openCylinders: 1.5 })).toEqual({
      used: [0, 4],
      cover: [0, 9],
    })
  })

  test('tells the chance of being out, and the day on which it counts', () => {
    const chances = chanceOutByDay(days, [9, 9])
    expect(chances[0]).toBe(0)
    expect(chances[1]).toBeCloseTo(1 - 0.9161, 4)
    expect(dayOfChance(chances, 0.05)).toBe(1)
    expect(dayOfChance(chances, 0.1)).toBeNull()
  })

  test('a chance that was there does not leave when a truck comes later', () => {
    expect(
      chanceOutByDay([days[1] ?? { mean: 6, variance: 6 }, { mean: 6, variance: 6 }], [9, 99])[1],
    ).toBeCloseTo(1 - 0.9161, 4)
  })

  test('what is left runs from the least to the most, and not below nought', () => {
    const [, second] = leftByDay(days, [9, 9])
    expect(second).toEqual(second?.toSorted((a, b) => a - b))
    expect(second?.[0]).toBe(0)
    expect(second?.[2]).toBe(3)
  })

  test('one more job is spread over its days', () => {
    const more = withMoreWork(
      [1, 2, 3].map((mean) => ({ mean, variance: mean })),
      { cylinders: 4, fromDay: 1, toDay: 2, relativeSpread: 0.5 },
    )
    expect(more.map((day) => day.mean)).toEqual([1, 4, 7])
    expect(more[2]?.variance).toBe(3 + 4 + 4)
  })
})
