import { expect, test } from 'vitest'
import { permitWatch } from '@/lib/permit/after-work'
import type { TimelineEvent } from '@/lib/permit/timeline'
import { permitTimeline } from '@/lib/permit/timeline'
import { at, roundAt, watchedPermit } from './build'

const event = (kind: TimelineEvent['kind'], minute: number) => ({ kind, at: at(minute) })
const shown = (
  events: TimelineEvent[],
  nowMin: number,
  watch = permitWatch(watchedPermit(0), at(0)),
) => {
  const timeline = permitTimeline({ events, cuts: [], rounds: [], watch, now: at(nowMin) })
  const minute = (date: Date) => (date.getTime() - at(0).getTime()) / 60_000
  return {
    timeline,
    spans: timeline.spans.map((span) => [span.pattern, minute(span.from), minute(span.to)]),
  }
}

test('a whole life becomes spans that touch, and the watch burns low once its minutes are done', () => {
  const events = [
    event('prepared', -60),
    event('cleared', -10),
    event('issued', 0),
    event('operator_on', 0),
    event('held', 20),
    event('resumed', 30),
    event('work_ended', 60),
    event('round', 70),
    event('closed', 130),
  ]
  const watch = permitWatch(watchedPermit(115), at(130))
  const { spans, timeline } = shown(events, 200, watch)
  expect(spans).toEqual([
    ['preparing', -60, -10],
    ['cleared', -10, 0],
    ['open', 0, 20],
    ['held', 20, 30],
    ['open', 30, 60],
    ['watch', 60, 120],
    ['monitored', 120, 130],
    ['closed', 130, 130],
  ])
  expect(timeline.to).toEqual(at(130))
  expect(timeline.holdWatches).toEqual([{ from: at(20), to: at(30) }])
})

test('an open permit runs up to now, and a final stop is kept beside it', () => {
  const events = [
    event('prepared', -5),
    event('cleared', -2),
    event('issued', 0),
    event('held', 10),
  ]
  expect(shown(events, 15).spans.at(-1)).toEqual(['held', 10, 15])
  expect(shown([...events, event('stopped', 11)], 15).timeline.stoppedAt).toEqual(at(11))
  expect(
    shown([...events, event('stopped', 11), event('stop_withdrawn', 12)], 15).timeline.stoppedAt,
  ).toBeNull()
})

test('minutes that a late round added are framed where they fell', () => {
  const watch = permitWatch(watchedPermit(0, { rounds: [roundAt(74)] }), at(75))
  const { timeline } = shown([event('prepared', 0), event('work_ended', 60)], 75, watch)
  expect(timeline.added).toEqual([{ from: at(70), to: at(74), restarted: false }])
  const over = permitWatch(watchedPermit(0, { rounds: [roundAt(95)] }), at(96))
  const restarted = shown([event('prepared', 0), event('work_ended', 60)], 96, over).timeline.added
  expect(restarted).toEqual([{ from: at(60), to: at(95), restarted: true }])
})
