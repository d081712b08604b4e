import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { allocate, roundTogether } from '@/lib/calc/allocation'
import { narrowings } from '@/lib/calc/next-reading'
import { balanceVector } from './balance-vector'

const positive = fc.double({ min: 0.01, max: 100, noNaN: true })
const part = fc.record({ value: positive, variance: positive })
const parts = fc.array(part, { minLength: 1, maxLength: 8 })

describe('one consumption shared by several jobs', () => {
  test('meets the published shares of an exact total', () => {
    const { inputs, expected } = balanceVector<
      { estimate: number[]; cv: number[]; exactTotal: number },
      { allocation: number[]; variance: number[] }
    >('dr-allocation')
    const shares = allocate(
      inputs.estimate.map((value, i) => ({ value, variance: (value * (inputs.cv[i] ?? 0)) ** 2 })),
      { value: inputs.exactTotal, variance: 0 },
    )
    for (const [i, value] of expected.allocation.entries())
      expect(shares.parts[i]?.value).toBeCloseTo(value, 9)
    for (const [i, variance] of expected.variance.entries())
      expect(shares.parts[i]?.variance).toBeCloseTo(variance, 9)
  })

  test('adds up to the total after, none negative, none less sure than before', () => {
    fc.assert(
      fc.property(parts, part, (expected, total) => {
        const shares = allocate(expected, total)
        const sum = shares.parts.reduce((all, one) => all + one.value, 0)
        for (const [i, one] of shares.parts.entries()) {
          expect(one.value).toBeGreaterThanOrEqual(0)
          expect(one.variance).toBeLessThanOrEqual((expected[i]?.variance ?? 0) + 1e-9)
        }
        if (shares.parts.every((one) => one.value > 0))
          expect(sum).toBeCloseTo(shares.total.value, 6)
      }),
    )
  })

  test('in whole units still adds up, each within a unit of its part', () => {
    fc.assert(
      fc.property(fc.array(positive, { maxLength: 12 }), positive, (values, unit) => {
        const rounded = roundTogether(values, unit)
        const sum = (all: readonly number[]) => all.reduce((total, one) => total + one, 0)
        expect(sum(rounded) / unit).toBeCloseTo(Math.round(sum(values) / unit), 6)
        for (const [i, one] of rounded.entries())
          expect(Math.abs(one - (values[i] ?? 0))).toBeLessThanOrEqual(unit * (1 + 1e-9))
      }),
    )
  })

  // Seats of the textbook example: 43, 30 and 27 % of 10 seats are 4, 3 and 3 by largest remainders (from memory).
  test('gives the largest remainders the rest', () => {
    expect(roundTogether([4.3, 3, 2.7], 1)).toEqual([4, 3, 3])
    expect(() => roundTogether([-1], 1)).toThrow(/OUT_OF_RANGE/)
  })
})

describe('one more reading', () => {
  test('as good as the one that is there takes half of its variance', () => {
    const end = { id: 'off', weight: -1, variance: 4, furtherVariance: 4 }
    const [best] = narrowings([end], 8)
    expect(best?.standardUncertaintyKg).toBeCloseTo(Math.sqrt(6), 12)
    expect(best?.share).toBeCloseTo(Math.sqrt(6 / 8), 12)
  })

  test('helps most where the roughest reading stands', () => {
    const at = (id: string, variance: number) => ({
      id,
      weight: 1,
      variance,
      furtherVariance: 0.01,
    })
    const found = narrowings([at('fine', 0.04), at('rough', 9), at('fair', 1)], 10.04)
    expect(found.map((one) => one.id)).toEqual(['rough', 'fair', 'fine'])
    expect(found[0]?.share).toBeLessThan(0.5)
  })

  test('never widens a number', () => {
    const end = fc.record({
      id: fc.string(),
      weight: fc.constantFrom(1, -1),
      variance: positive,
      furtherVariance: positive,
    })
    fc.assert(
      fc.property(fc.array(end, { minLength: 1, maxLength: 6 }), (ends) => {
        const variance = ends.reduce((sum, one) => sum + one.variance, 0)
        for (const one of narrowings(ends, variance)) {
          expect(one.share).toBeLessThanOrEqual(1)
          expect(one.share).toBeGreaterThan(0)
        }
      }),
    )
  })
})
