import { describe, expect, test } from 'vitest'
import { mayLead } from '@/app/_components/live/live-stream'
import { crossedMark, nextTickMs } from '@/app/_components/live/next-tick'

const MINUTE = 60_000

describe('redraws', () => {
  test('come at the next whole minute', () => {
    expect(nextTickMs({ nowMs: 10 * MINUTE + 15_000 })).toBe(45_000)
  })

  test('come each second in the last minute', () => {
    expect(nextTickMs({ nowMs: 10 * MINUTE + 15_400, untilMs: 11 * MINUTE })).toBe(600)
  })

  test('do not miss the beginning of the last minute', () => {
    expect(nextTickMs({ nowMs: 10 * MINUTE + 15_000, untilMs: 11 * MINUTE + 30_000 })).toBe(15_000)
  })
})

describe('live announcements', () => {
  test.each([
    { wasLeftMs: 11 * MINUTE, leftMs: 10 * MINUTE, mark: 10 },
    { wasLeftMs: 10 * MINUTE, leftMs: 9 * MINUTE, mark: null },
    { wasLeftMs: 6 * MINUTE, leftMs: 4.5 * MINUTE, mark: 5 },
    { wasLeftMs: 61_000, leftMs: MINUTE, mark: 1 },
    { wasLeftMs: 1_000, leftMs: 0, mark: 0 },
    { wasLeftMs: 0, leftMs: 0, mark: null },
  ])('from $wasLeftMs to $leftMs ms says $mark', ({ mark, ...left }) => {
    expect(crossedMark(left)).toBe(mark)
  })
})

describe('the one stream of a browser', () => {
  test('goes to a tab when nobody holds it or who did has gone quiet', () => {
    expect(mayLead({ lease: null, tab: 'a', nowMs: 0 })).toBe(true)
    expect(mayLead({ lease: { tab: 'b', at: 0 }, tab: 'a', nowMs: 20_000 })).toBe(true)
    expect(mayLead({ lease: { tab: 'b', at: 15_000 }, tab: 'a', nowMs: 20_000 })).toBe(false)
    expect(mayLead({ lease: { tab: 'a', at: 15_000 }, tab: 'a', nowMs: 20_000 })).toBe(true)
  })
})
