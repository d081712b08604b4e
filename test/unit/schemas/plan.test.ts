import { expect, test } from 'vitest'
import { planHref, withChange } from '@/app/(app)/plan/plan-address'
import { planAskOf } from '@/lib/schemas/plan'

const usual = planAskOf({})
const queryOf = (href: string) => Object.fromEntries(new URLSearchParams(href.split('?')[1]))

test('what is not understood counts as not asked', () => {
  expect(planAskOf({ late: 'x', truck: 'maybe', addCylinders: '-3', change: 'a~b' })).toEqual(usual)
  expect(planAskOf({ late: '99' }).late).toBe(0)
  expect(planHref(usual, {})).toBe('/plan')
})

test('an address says again what was asked', () => {
  const changes = withChange([], { key: 'order.2.mill.s', sizeId: 'oxygen-244', quantity: 6 })
  const ask = { ...usual, late: 2, hasTruck: false, changes }
  expect(planAskOf(queryOf(planHref(usual, ask)))).toEqual(ask)
})

test('a change takes the place of an earlier one of the same line and size', () => {
  const line = { key: 'order.2.mill.s', sizeId: 'oxygen-244' }
  const twice = withChange(withChange([], { ...line, quantity: 6 }), { ...line, quantity: 7 })
  expect(twice).toEqual([{ ...line, quantity: 7 }])
  const out = withChange(twice, { key: line.key, sizeId: null, quantity: 0 })
  expect(out).toEqual([{ key: line.key, sizeId: null, quantity: 0 }])
})
