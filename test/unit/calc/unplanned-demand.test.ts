import { describe, expect, test } from 'vitest'
import { unplannedCounts } from '@/lib/calc/unplanned-demand'

describe('unplannedCounts', () => {
  test('counts every cylinder where nothing was planned', () => {
    expect(unplannedCounts({ emptiedPerDay: [1, 0, 2], plannedPerDay: [0, 0, 0] })).toEqual([
      1, 0, 2,
    ])
  })

  test('counts none where the plan covers them, whichever day they came off', () => {
    const planned = { emptiedPerDay: [0, 0, 3], plannedPerDay: [1, 1, 1] }
    expect(unplannedCounts(planned)).toEqual([0, 0, 0])
  })

  test('counts only the whole cylinders beyond the plan, once', () => {
    const beyond = { emptiedPerDay: [2, 1, 0, 1], plannedPerDay: [0.6, 0, 0, 0] }
    expect(unplannedCounts(beyond)).toEqual([1, 1, 0, 1])
  })

  test('refuses days that do not match', () => {
    expect(() => unplannedCounts({ emptiedPerDay: [1], plannedPerDay: [] })).toThrow(
      expect.objectContaining({ code: 'OUT_OF_RANGE', field: 'plannedPerDay' }),
    )
  })
})
