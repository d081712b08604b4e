import { describe, expect, test } from 'vitest'
import { jobSpans, type StayReading } from '@/lib/calc/job-spans'

const at = (minute: number, gasKg: number, over: Partial<StayReading> = {}): StayReading => ({
  cylinderId: 'c1',
  isPutOn: false,
  isTakenOff: false,
  jobId: null,
  atMs: minute * 60_000,
  gasKg,
  standardUncertaintyKg: 0.1,
  ...over,
})
const kgOf = (readings: readonly StayReading[], jobId: string) =>
  jobSpans(readings, jobId).map((span) => span.readings.map((reading) => reading.gasKg))

describe('jobSpans', () => {
  test('gives a job the stay whose ends name it, or name nobody', () => {
    const stay = [at(0, 9, { isPutOn: true }), at(60, 2, { isTakenOff: true, jobId: 'a' })]
    expect(kgOf(stay, 'a')).toEqual([[9, 2]])
  })

  test('parts a stay between two jobs and gives neither what left in between', () => {
    const stay = [
      at(0, 9, { isPutOn: true, jobId: 'a' }),
      at(60, 6, { jobId: 'a' }),
      at(120, 5.9, { jobId: 'b' }),
      at(180, 3, { isTakenOff: true, jobId: 'b' }),
    ]
    expect(kgOf(stay, 'a')).toEqual([[9, 6]])
    expect(kgOf(stay, 'b')).toEqual([[5.9, 3]])
  })

  test('never joins two stays of one cylinder, for it was filled in between', () => {
    const readings = [
      at(0, 9, { isPutOn: true, jobId: 'a' }),
      at(60, 1, { isTakenOff: true, jobId: 'a' }),
      at(500, 9, { isPutOn: true, jobId: 'a' }),
      at(560, 4, { isTakenOff: true, jobId: 'a' }),
    ]
    expect(kgOf(readings, 'a')).toEqual([
      [9, 1],
      [9, 4],
    ])
  })

  test('keeps a single reading, so that the audit can say what is missing', () => {
    expect(kgOf([at(0, 9, { isPutOn: true, jobId: 'a' })], 'a')).toEqual([[9]])
  })
})
