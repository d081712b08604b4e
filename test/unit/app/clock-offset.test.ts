import fc from 'fast-check'
import { expect, test } from 'vitest'
import { offsetOf, withMeasured } from '@/app/_components/live/clock-offset'

const after = (measuredMs: readonly number[]) =>
  offsetOf(measuredMs.reduce<readonly number[]>(withMeasured, []))

test('nothing is known before the first measurement', () => {
  expect(after([])).toBeNull()
})

test('answers that were longer under way change nothing', () => {
  expect(after([-900, -40, -700, -2_000])).toBe(-40)
})

test('a clock that is set back or forth is followed at once', () => {
  expect(after([0, 0, 3_600_000])).toBe(3_600_000)
  expect(after([3_600_000, 3_599_900, 0])).toBe(0)
})

test('a slow drift is followed within some measurements', () => {
  const drifting = Array.from({ length: 60 }, (_, beat) => -beat * 100)
  expect(after(drifting)).toBeGreaterThanOrEqual(-5_900)
  expect(after(drifting)).toBeLessThanOrEqual(-5_200 + 200)
})

test('the offset is off by no more than the quickest of the last answers was under way', () => {
  const delays = fc.array(fc.integer({ min: 0, max: 4_999 }), { minLength: 1, maxLength: 8 })
  fc.assert(
    fc.property(fc.integer({ min: -1e12, max: 1e12 }), delays, (trueMs, delaysMs) => {
      const found = after(delaysMs.map((delay) => trueMs - delay)) ?? Number.NaN
      expect(trueMs - found).toBe(Math.min(...delaysMs))
    }),
  )
})
