import { describe, expect, test } from 'vitest'
import type { WatchInput } from '@/lib/permit/types'
import { watchProgress } from '@/lib/permit/watch'

const START = Date.parse('2026-03-02T18:00:00Z')
const at = (minute: number) => new Date(START + minute * 60_000)
const minuteOf = (date: Date | null) => (date === null ? null : (date.getTime() - START) / 60_000)
const spans = (...pairs: [number, number | null][]) =>
  pairs.map(([from, to]) => ({ from: at(from), to: to === null ? null : at(to) }))

function watch(nowMin: number, roundsMin: number[], over: Partial<WatchInput> = {}) {
  const input = {
    torchOutAt: at(0),
    watchMin: 60,
    roundIntervalMin: 10,
    presence: spans([0, null]),
    roundsAt: roundsMin.map(at),
    now: at(nowMin),
    ...over,
  }
  const progress = watchProgress(input)
  return {
    ...progress,
    creditMin: progress.creditMs / 60_000,
    remainingMin: progress.remainingMs / 60_000,
  }
}

describe('watchProgress', () => {
  test('counts maintained presence minute by minute', () => {
    const progress = watch(31, [10, 20, 30])
    expect(progress.creditMin).toBe(31)
    expect(progress.remainingMin).toBe(29)
    expect(minuteOf(progress.endsAtIfWatched)).toBe(60)
    expect(minuteOf(progress.nextDueAt)).toBe(40)
    expect(minuteOf(progress.nextOpensAt)).toBe(38)
  })

  test('ends at its minute without a round that falls due at that very instant', () => {
    expect(watch(59.99, [10, 20, 30, 40, 50]).done).toBe(false)
    const done = watch(60, [10, 20, 30, 40, 50])
    expect(done.done).toBe(true)
    expect(minuteOf(done.doneAt)).toBe(60)
    expect(done.nextDueAt).toBeNull()
  })

  test('stays done however late the permit is then signed off', () => {
    const later = watch(300, [10, 20, 30, 40, 50])
    expect(minuteOf(later.doneAt)).toBe(60)
    expect(later.creditMin).toBe(60)
  })

  test('a round up to two minutes early is that round, an earlier look is none', () => {
    expect(watch(12, [8]).creditMin).toBe(12)
    const tooEarly = watch(15, [7.9])
    expect(tooEarly.rounds).toEqual([])
    expect(tooEarly.creditMin).toBe(10)
  })

  test('a round late by less than an interval adds the unproven minutes and keeps the grid', () => {
    const progress = watch(25, [14, 20])
    expect(progress.rounds[0]).toMatchObject({
      lateMs: 240_000,
      addedMs: 240_000,
      restarted: false,
    })
    expect(minuteOf(progress.rounds[1]?.dueAt ?? null)).toBe(20)
    expect(progress.creditMin).toBe(21)
    expect(minuteOf(watch(64, [14, 20, 30, 40, 50, 60]).doneAt)).toBe(64)
  })

  test('while a round is pending the minutes since it fell due do not count', () => {
    const progress = watch(17, [])
    expect(progress.creditMin).toBe(10)
    expect(minuteOf(progress.nextDueAt)).toBe(10)
  })

  test('a round late by a whole interval starts the watch over at that round', () => {
    expect(watch(19.99, []).creditMin).toBe(10)
    expect(watch(20, []).creditMin).toBe(0)
    const restarted = watch(25, [20])
    expect(restarted.restarts).toBe(1)
    expect(minuteOf(restarted.anchorAt)).toBe(20)
    expect(restarted.creditMin).toBe(5)
    expect(minuteOf(restarted.nextDueAt)).toBe(30)
  })

  test('minutes when nobody watched do not count, and say since when', () => {
    const progress = watch(32, [10, 20, 30], { presence: spans([0, 8], [18, null]) })
    expect(progress.creditMin).toBe(22)
    const paused = watch(32, [10, 20, 30], { presence: spans([0, 25]) })
    expect(minuteOf(paused.pausedSince)).toBe(25)
    expect(paused.creditMin).toBe(25)
  })

  test('two people watching at once count once', () => {
    expect(watch(20, [10], { presence: spans([0, 15], [5, null]) }).creditMin).toBe(20)
  })

  test('minutes watched before the torch last went out are lost', () => {
    const progress = watch(50, [10, 20, 35, 45], { torchOutAt: at(25) })
    expect(progress.creditMin).toBe(25)
  })

  test('no watch is done at once', () => {
    expect(watch(0, [], { watchMin: 0, presence: [] }).done).toBe(true)
  })
})
