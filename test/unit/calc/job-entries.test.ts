import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { auditJob } from '@/lib/calc/audit'
import { jobEntries } from '@/lib/calc/job-entries'
import { jobSpans, type StayReading } from '@/lib/calc/job-spans'
import { type SharedWork, sharedUse } from '@/lib/calc/shared-use'

const HOUR = 3_600_000
type Reading = StayReading & { outfitId: string | null; eventId: string }

const reading = (
  hour: number,
  gasKg: number,
  jobId: string | null,
  more: Partial<Reading> = {},
): Reading => {
  const cylinderId = more.cylinderId ?? 'x'
  return {
    eventId: `${cylinderId}${hour}`,
    cylinderId,
    outfitId: 'o',
    atMs: hour * HOUR,
    gasKg,
    jobId,
    isPutOn: false,
    isTakenOff: false,
    standardUncertaintyKg: 0.1,
    ...more,
  }
}

/** The job's use and the entries that made it. */
function madeOf(readings: readonly Reading[], works: readonly SharedWork[], jobId: string) {
  const shared = sharedUse(readings, works)
  const outcome = auditJob({
    gas: 'oxygen',
    spans: jobSpans(readings, jobId, shared),
    shares: shared.flatMap(({ cylinderId, fromMs, toMs, shares }) =>
      shares.flatMap(({ jobId: whose, ...share }) =>
        whose === jobId ? [{ cylinderId, fromMs, toMs, ...share }] : [],
      ),
    ),
    estimate: { meanKg: 3, standardUncertaintyKg: 0.5 },
  })
  if (!outcome.ok) return null
  return { usage: outcome.usage, entries: jobEntries(outcome, readings, shared) }
}

const sumOf = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0)

describe('what each entry put into a job’s use', () => {
  test('the first and the last of a stay bring doubt, one between them only parts the gas', () => {
    const stay = [
      reading(0, 9, 'a', { isPutOn: true }),
      reading(2, 7, 'a'),
      reading(6, 3, 'a', { isTakenOff: true, standardUncertaintyKg: 0.3 }),
    ]
    expect(madeOf(stay, [], 'a')?.entries).toEqual([
      { eventId: 'x0', cylinderId: 'x', tookKg: null, doubtKg: 0.1, shared: null },
      { eventId: 'x2', cylinderId: 'x', tookKg: 2, doubtKg: 0, shared: null },
      { eventId: 'x6', cylinderId: 'x', tookKg: 4, doubtKg: 0.3, shared: null },
    ])
  })

  test('a shared interval ends with the job’s own part and says whose the others are', () => {
    const handedOver = [
      reading(0, 9, 'a', { isPutOn: true }),
      reading(2, 7, 'a'),
      reading(6, 3, 'b', { isTakenOff: true }),
    ]
    const work = (jobId: string, from: number, to: number, expectedKg: number) => ({
      ...{ outfitId: 'o', jobId, fromMs: from * HOUR, toMs: to * HOUR },
      ...{ expectedKg, standardUncertaintyKg: 0.3 },
    })
    const made = madeOf(handedOver, [work('a', 2, 4, 2), work('b', 4, 6, 1.4)], 'a')
    const last = made?.entries.at(-1)
    expect(last?.shared?.shares.map((share) => share.jobId)).toEqual(['a', 'b'])
    expect(last?.tookKg).toBeCloseTo(last?.shared?.shares[0]?.usageKg ?? Number.NaN, 12)
    const ofB = madeOf(handedOver, [work('a', 2, 4, 2), work('b', 4, 6, 1.4)], 'b')
    expect(ofB?.entries.map((one) => one.eventId)).toEqual(['x2', 'x6'])
    expect(ofB?.entries[0]).toMatchObject({ tookKg: null, doubtKg: 0 })
  })

  test('a stay of another job has no part', () => {
    const readings = [
      reading(0, 9, 'a', { isPutOn: true }),
      reading(1, 8, 'a', { isTakenOff: true }),
      reading(2, 8, 'b', { isPutOn: true }),
      reading(3, 2, 'b', { isTakenOff: true }),
    ]
    expect(madeOf(readings, [], 'a')?.entries.map((one) => one.eventId)).toEqual(['x0', 'x1'])
  })
})

test('of any record, what the entries took adds up to the use, and their doubts to its doubt', () => {
  const step = fc.record({
    kg: fc.double({ min: 0, max: 9, noNaN: true }),
    u: fc.double({ min: 0.01, max: 1, noNaN: true }),
    jobId: fc.constantFrom('a', 'b', null),
    turn: fc.constantFrom('on', 'off', 'read', 'read'),
    cylinderId: fc.constantFrom('x', 'y'),
  })
  const works = fc.array(
    fc.record({
      jobId: fc.constantFrom('a', 'b'),
      at: fc.integer({ min: 0, max: 11 }),
      expectedKg: fc.double({ min: 0.1, max: 4, noNaN: true }),
    }),
    { maxLength: 8 },
  )
  let judged = 0
  fc.assert(
    fc.property(fc.array(step, { minLength: 2, maxLength: 12 }), works, (steps, logged) => {
      const readings = steps
        .map((one, hour) =>
          reading(hour, one.kg, one.jobId, {
            cylinderId: one.cylinderId,
            isPutOn: one.turn === 'on',
            isTakenOff: one.turn === 'off',
            standardUncertaintyKg: one.u,
          }),
        )
        .sort((a, b) => a.cylinderId.localeCompare(b.cylinderId) || a.atMs - b.atMs)
      const made = madeOf(
        readings,
        logged.map(({ jobId, at, expectedKg }) => ({
          ...{ outfitId: 'o', jobId, fromMs: at * HOUR, toMs: (at + 1) * HOUR },
          ...{ expectedKg, standardUncertaintyKg: 0.2 * expectedKg },
        })),
        'a',
      )
      if (!made) return
      judged += 1
      const { usage, entries } = made
      expect(sumOf(entries.map((one) => one.tookKg ?? 0))).toBeCloseTo(usage.mean, 9)
      const doubt = Math.sqrt(sumOf(entries.map((one) => one.doubtKg ** 2)))
      expect(doubt).toBeCloseTo(usage.standardUncertainty, 9)
      expect(entries.every((one) => (one.tookKg ?? 0) >= 0)).toBe(true)
    }),
    { numRuns: 400 },
  )
  expect(judged).toBeGreaterThan(100)
})
