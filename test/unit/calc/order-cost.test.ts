import { describe, expect, test } from 'vitest'
import { orderCostMinor } from '@/lib/calc/order-cost'

describe('orderCostMinor', () => {
  test('adds the fills and one delivery', () => {
    const lines = [
      { quantity: 3, fillMinor: 4_400 },
      { quantity: 1, fillMinor: 12_800 },
      { quantity: 0, fillMinor: null },
    ]
    expect(orderCostMinor({ lines, deliveryFeeMinor: 3_500 })).toBe(3 * 4_400 + 12_800 + 3_500)
  })

  test('is nothing where nothing is ordered, without a delivery', () => {
    const lines = [{ quantity: 0, fillMinor: 4_400 }]
    expect(orderCostMinor({ lines, deliveryFeeMinor: 3_500 })).toBe(0)
  })

  test('is not known where an ordered size has no price', () => {
    const lines = [
      { quantity: 1, fillMinor: 4_400 },
      { quantity: 2, fillMinor: null },
    ]
    expect(orderCostMinor({ lines, deliveryFeeMinor: 0 })).toBeNull()
  })
})
