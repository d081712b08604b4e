import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { WatchInput } from '@/lib/permit/types'
import { watchProgress } from '@/lib/permit/watch'

const START = Date.parse('2026-03-02T18:00:00Z')
const at = (seconds: number) => new Date(START + seconds * 1000)
const seconds = (maxMin: number) => fc.integer({ min: 0, max: maxMin * 60 })

const presence = fc
  .array(fc.tuple(seconds(200), fc.integer({ min: 1, max: 6000 })), { maxLength: 4 })
  .map((stints) => stints.map(([from, length]) => ({ from: at(from), to: at(from + length) })))
const input: fc.Arbitrary<WatchInput> = fc.record({
  torchOutAt: fc.constant(at(0)),
  watchMin: fc.constantFrom(0, 10, 30, 60, 120),
  roundIntervalMin: fc.constantFrom(5, 10, 20),
  presence: fc.oneof(presence, fc.constant([{ from: at(0), to: null }])),
  roundsAt: fc.array(seconds(200), { maxLength: 20 }).map((all) => all.map(at)),
  now: seconds(220).map(at),
})
const runs = { numRuns: 300 }

test('credit never exceeds the time since the torch went out, nor the minutes owed', () => {
  fc.assert(
    fc.property(input, (one) => {
      const { creditMs, remainingMs } = watchProgress(one)
      expect(creditMs).toBeGreaterThanOrEqual(0)
      expect(creditMs).toBeLessThanOrEqual(one.now.getTime() - START)
      expect(creditMs + remainingMs).toBe(one.watchMin * 60_000)
    }),
    runs,
  )
})

test('a watch that is done stays done at the same instant, whatever is recorded later', () => {
  fc.assert(
    fc.property(
      input,
      fc.array(seconds(100), { maxLength: 4 }),
      seconds(300),
      (one, more, laterS) => {
        const now = watchProgress(one)
        fc.pre(now.done)
        const later = watchProgress({
          ...one,
          roundsAt: [
            ...one.roundsAt,
            ...more.map((s) => new Date(one.now.getTime() + 1 + s * 1000)),
          ],
          now: new Date(one.now.getTime() + laterS * 1000),
        })
        expect(later.doneAt).toEqual(now.doneAt)
      },
    ),
    runs,
  )
})

test('more minutes owed never end sooner', () => {
  fc.assert(
    fc.property(input, fc.integer({ min: 0, max: 120 }), (one, extraMin) => {
      const more = watchProgress({ ...one, watchMin: one.watchMin + extraMin })
      const less = watchProgress(one)
      if (more.doneAt)
        expect(more.doneAt.getTime()).toBeGreaterThanOrEqual(less.doneAt?.getTime() ?? Infinity)
    }),
    runs,
  )
})

test('less presence never gives more credit', () => {
  fc.assert(
    fc.property(input, (one) => {
      const fewer = watchProgress({ ...one, presence: one.presence.slice(1) })
      expect(fewer.creditMs).toBeLessThanOrEqual(watchProgress(one).creditMs)
    }),
    runs,
  )
})

test('no rounds, late rounds or gaps ever end a watch before its minutes have passed', () => {
  fc.assert(
    fc.property(input, (one) => {
      const { doneAt } = watchProgress(one)
      if (doneAt) expect(doneAt.getTime() - START).toBeGreaterThanOrEqual(one.watchMin * 60_000)
    }),
    runs,
  )
})

test('making the pending round later never brings the end nearer', () => {
  fc.assert(
    fc.property(seconds(40), seconds(40), (a, b) => {
      const [early, late] = [Math.min(a, b), Math.max(a, b)]
      const ends = [early, late].map((s) => {
        const progress = watchProgress({
          torchOutAt: at(0),
          watchMin: 60,
          roundIntervalMin: 10,
          presence: [{ from: at(0), to: null }],
          roundsAt: [at(8 * 60 + s)],
          now: at(8 * 60 + s),
        })
        return progress.endsAtIfWatched?.getTime() ?? 0
      })
      expect(ends[1]).toBeGreaterThanOrEqual(ends[0] ?? Infinity)
    }),
    runs,
  )
})
