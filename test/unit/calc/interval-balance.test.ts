import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { balanceIntervals, type LoggedShare, type UsedInterval } from '@/lib/calc/interval-balance'

const used = (fromMs: number, toMs: number, over: Partial<UsedInterval> = {}): UsedInterval => ({
  outfitId: 'o1',
  fromMs,
  toMs,
  usageKg: 5,
  standardUncertaintyKg: 0.2,
  ...over,
})
const log = (fromMs: number, toMs: number, share: number, outfitId = 'o1'): LoggedShare => ({
  outfitId,
  fromMs,
  toMs,
  share,
})
const estimate = { meanKg: 10, standardUncertaintyKg: 1 }

describe('balanceIntervals', () => {
  test('sets the share that was cut in an interval beside what left the cylinder', () => {
    const [only] = balanceIntervals({
      estimate,
      logs: [log(10, 20, 0.5)],
      intervals: [used(0, 100)],
    })
    expect(only?.estimate).toMatchObject({ mean: 5, standardUncertainty: 0.5 })
    expect(only?.difference.mean).toBeCloseTo(0)
    expect(only?.isWithin).toBe(true)
  })

  test('parts a log between the intervals that it overlaps, by time', () => {
    const [first, second] = balanceIntervals({
      estimate,
      logs: [log(80, 120, 1)],
      intervals: [used(0, 110), used(110, 200)],
    })
    expect(first?.estimate?.mean).toBeCloseTo(7.5)
    expect(second?.estimate?.mean).toBeCloseTo(2.5)
  })

  test('gives no interval the work of another outfit', () => {
    const [mine] = balanceIntervals({
      estimate,
      logs: [log(10, 20, 0.5, 'o2')],
      intervals: [used(0, 100)],
    })
    expect(mine?.estimate).toBeNull()
  })

  test('calls use beyond both uncertainties out of balance', () => {
    const [over] = balanceIntervals({
      estimate,
      logs: [log(10, 20, 0.5)],
      intervals: [used(0, 100, { usageKg: 7 })],
    })
    expect(over?.isWithin).toBe(false)
    expect(over?.difference.low90).toBeGreaterThan(0)
  })

  test('never hands out more or less of a log than it is, where any interval overlaps it', () => {
    const moment = fc.integer({ min: 0, max: 1_000 })
    const span = fc.tuple(moment, moment).map(([a, b]) => [Math.min(a, b), Math.max(a, b) + 1])
    fc.assert(
      fc.property(fc.array(span, { minLength: 1, maxLength: 6 }), span, (spans, [from, to]) => {
        const intervals = spans.map(([a, b]) => used(a ?? 0, b ?? 0))
        const balances = balanceIntervals({
          estimate,
          logs: [log(from ?? 0, to ?? 0, 0.7)],
          intervals,
        })
        const total = balances.reduce((sum, one) => sum + (one.estimate?.mean ?? 0), 0)
        const overlaps = intervals.some(
          (one) => Math.min(one.toMs, to ?? 0) > Math.max(one.fromMs, from ?? 0),
        )
        expect(total).toBeCloseTo(overlaps ? 7 : 0)
      }),
      { numRuns: 200 },
    )
  })
})
