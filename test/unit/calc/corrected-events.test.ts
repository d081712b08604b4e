import { expect, test } from 'vitest'
import { type CorrectableEvent, putRight } from '@/lib/calc/corrected-events'
import { jobSpans, readingsByJob, type StayReading } from '@/lib/calc/job-spans'

const event = (id: string, contentsKg: number | null, correctsId: string | null = null) => ({
  id,
  correctsId,
  contentsKg,
  contentsUKg: 0.1,
  gaugeKpa: null,
  weightKg: null,
  temperatureK: null,
  markedEmpty: false,
})

test('a correction stands where the entry stood that it puts right', () => {
  const events: CorrectableEvent[] = [event('a', 9), event('b', 5), event('c', 6, 'b')]
  expect(putRight(events).map((one) => [one.id, one.contentsKg])).toEqual([
    ['a', 9],
    ['b', 6],
  ])
})

test('a correction of a correction reaches the first entry', () => {
  const events = [event('a', 9), event('b', 8, 'a'), event('c', null, 'b'), event('d', 3)]
  expect(putRight(events).map((one) => [one.id, one.contentsKg])).toEqual([
    ['a', null],
    ['d', 3],
  ])
})

test('one that puts right what is not there stands for itself', () => {
  const events = [event('b', 8, 'gone')]
  expect(putRight(events)).toEqual(events)
})

test('readings by job give each job the spans that the whole record gives it', () => {
  const reading = (
    cylinderId: string,
    atMs: number,
    gasKg: number,
    jobId: string | null,
    kind: 'on' | 'read' | 'off' = 'read',
  ): StayReading => ({
    cylinderId,
    atMs,
    gasKg,
    jobId,
    isPutOn: kind === 'on',
    isTakenOff: kind === 'off',
    standardUncertaintyKg: 0.2,
  })
  const readings = [
    reading('x', 1, 9, 'j', 'on'),
    reading('x', 2, 7, 'j'),
    reading('x', 3, 5, 'k'),
    reading('x', 4, 3, 'k', 'off'),
    reading('x', 5, 3, null, 'on'),
    reading('x', 6, 2, 'k', 'off'),
    reading('y', 1, 8, 'j', 'on'),
    reading('y', 9, 4, null, 'off'),
  ]
  const byJob = readingsByJob(readings)
  expect([...byJob.keys()].sort()).toEqual(['j', 'k'])
  for (const jobId of ['j', 'k'])
    expect(jobSpans(byJob.get(jobId) ?? [], jobId)).toEqual(jobSpans(readings, jobId))
})
