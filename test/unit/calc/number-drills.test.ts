import { expect, test } from 'vitest'
import { numberDrillIn, numberDrillOf } from '@/lib/calc/tables/number-drills'

test('number drills run from 0.2280 in at No. 1 down to 0.0135 in at No. 80, none alike', () => {
  const sizes = Array.from({ length: 80 }, (_, at) => numberDrillIn(at + 1) ?? Number.NaN)
  expect([sizes[0], sizes.at(-1)]).toEqual([0.228, 0.0135])
  for (const [at, size] of sizes.entries()) {
    expect(size).toBeGreaterThan(sizes[at + 1] ?? 0)
    expect(numberDrillOf(size)).toBe(at + 1)
  }
})

test('a hole that no number drill makes has no number, and 81 is no drill', () => {
  expect(numberDrillOf(0.06)).toBeNull()
  expect(numberDrillOf(0.0595)).toBe(53)
  expect([numberDrillIn(0), numberDrillIn(81), numberDrillIn(1.5)]).toEqual([null, null, null])
})
