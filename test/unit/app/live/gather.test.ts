import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { gather } from '@/app/api/live/gather'

const SPANS = { firstMs: 50, apartMs: 800 }

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

function listening() {
  const told: { atMs: number; changes: number }[] = []
  const beganMs = performance.now()
  const gathered = gather(
    (changes) => told.push({ atMs: performance.now() - beganMs, changes }),
    SPANS,
  )
  return { told, ...gathered }
}

describe('changes that a screen is told of', () => {
  test('the first is told at once, what comes with it in the same breath', () => {
    const { told, add } = listening()
    add()
    vi.advanceTimersByTime(20)
    add()
    vi.advanceTimersByTime(5_000)
    expect(told).toEqual([{ atMs: 50, changes: 2 }])
  })

  test('of a stream of changes each is told once, in time, and no more often than need be', () => {
    const { told, add } = listening()
    for (let nth = 0; nth < 400; nth += 1) {
      add()
      vi.advanceTimersByTime(10)
    }
    vi.advanceTimersByTime(5_000)
    expect(told.map(({ atMs }) => atMs)).toEqual([50, 850, 1650, 2450, 3250, 4050])
    expect(told.reduce((sum, { changes }) => sum + changes, 0)).toBe(400)
  })

  test('a change after a quiet while waits no longer than the first did', () => {
    const { told, add } = listening()
    add()
    vi.advanceTimersByTime(3_000)
    add()
    vi.advanceTimersByTime(50)
    expect(told.map(({ atMs }) => atMs)).toEqual([50, 3050])
  })

  test('who has left is told nothing', () => {
    const { told, add, stop } = listening()
    add()
    stop()
    vi.advanceTimersByTime(5_000)
    expect(told).toEqual([])
  })
})
