import { describe, expect, test } from 'vitest'
import { DANGERS, dangerOf, worthOf } from '@/lib/calc/finding-rank'

const leak = { kind: 'leak_idle', probability: 0.4 } as const
const typed = { kind: 'reading_mistyped', probability: 0.6 } as const

describe('how soon somebody must look', () => {
  test.each([
    [true, true, DANGERS.fuelLeak],
    [true, false, DANGERS.fuelLeak],
    [false, true, DANGERS.oxygenLeakEnclosed],
    [false, false, DANGERS.otherLeak],
  ])('a leak of fuel %s, enclosed %s', (isFuel, isEnclosed, wanted) => {
    expect(dangerOf([typed, leak], { isFuel, isEnclosed })).toBe(wanted)
  })

  test('goes up from money to fuel, and a leak that is all but ruled out counts no more', () => {
    const { none, otherLeak, oxygenLeakEnclosed, fuelLeak } = DANGERS
    expect([none, otherLeak, oxygenLeakEnclosed, fuelLeak]).toEqual([0, 1, 2, 3])
    const place = { isFuel: true, isEnclosed: true }
    expect(dangerOf([typed], place)).toBe(none)
    expect(dangerOf([typed, { ...leak, probability: 0.001 }], place)).toBe(none)
  })
})

test('gas is worth its share of a full cylinder, whichever way it went', () => {
  expect(worthOf(4.5, { nominalKg: 9, fillMinor: 4200 })).toBe(2100)
  expect(worthOf(-4.5, { nominalKg: 9, fillMinor: 4200 })).toBe(2100)
  expect(worthOf(4.5, { nominalKg: 9, fillMinor: null })).toBeNull()
})
