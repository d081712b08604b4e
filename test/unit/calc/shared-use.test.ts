import { describe, expect, test } from 'vitest'
import { auditJob } from '@/lib/calc/audit'
import { jobSpans, type StayReading } from '@/lib/calc/job-spans'
import { type SharedWork, sharedUse } from '@/lib/calc/shared-use'

const HOUR = 3_600_000
type Reading = StayReading & { outfitId: string | null }

const reading = (
  hour: number,
  gasKg: number,
  jobId: string | null,
  more: Partial<Reading> = {},
) => ({
  cylinderId: 'x',
  outfitId: 'o',
  atMs: hour * HOUR,
  gasKg,
  jobId,
  isPutOn: false,
  isTakenOff: false,
  standardUncertaintyKg: 0.1,
  ...more,
})
const work = (jobId: string, from: number, to: number, expectedKg: number): SharedWork => ({
  outfitId: 'o',
  jobId,
  fromMs: from * HOUR,
  toMs: to * HOUR,
  expectedKg,
  standardUncertaintyKg: 0.3,
})

/** Hung on by job a, read again only when job b took it off; both cut in between. */
const handedOver = [
  reading(0, 9, 'a', { isPutOn: true }),
  reading(2, 7, 'a'),
  reading(6, 3, 'b', { isTakenOff: true }),
]
const both = [work('a', 2, 4, 2), work('b', 4, 6, 1.4)]

describe('use that two jobs share', () => {
  const [shared] = sharedUse(handedOver, both)

  test('is parted by what each one’s work should have taken', () => {
    // x_j = p_j + v_j (D − Σp)/(Σv + v_D) with D = 4 ± √0.02, p = 2 and 1.4, v = 0.09 each.
    const move = (0.09 * (4 - 3.4)) / (0.18 + 0.02)
    expect(shared?.shares.map((one) => one.jobId)).toEqual(['a', 'b'])
    expect(shared?.shares[0]?.usageKg).toBeCloseTo(2 + move, 9)
    expect(shared?.shares[1]?.usageKg).toBeCloseTo(1.4 + move, 9)
    expect(shared?.shares[0]?.standardUncertaintyKg).toBeCloseTo(Math.sqrt(0.09 - 0.0081 / 0.2), 9)
  })

  test('comes into each job’s use, beside what only that job burned', () => {
    const usedBy = (jobId: string) => {
      const shares = (shared ? [shared] : []).flatMap(({ cylinderId, fromMs, toMs, shares: all }) =>
        all.flatMap(({ jobId: whose, ...share }) =>
          whose === jobId ? [{ cylinderId, fromMs, toMs, ...share }] : [],
        ),
      )
      const outcome = auditJob({
        gas: 'oxygen',
        spans: jobSpans(handedOver, jobId, shared ? [shared] : []),
        shares,
        estimate: { meanKg: 3, standardUncertaintyKg: 0.5 },
      })
      if (!outcome.ok) throw new Error('refused')
      return outcome.usage.mean
    }
    expect(usedBy('a')).toBeCloseTo(2 + (shared?.shares[0]?.usageKg ?? 0), 9)
    expect(usedBy('b')).toBeCloseTo(shared?.shares[1]?.usageKg ?? 0, 9)
  })

  test('is nobody’s where neither worked, and wholly one’s where only that one did', () => {
    expect(sharedUse(handedOver, [])).toEqual([])
    const [alone] = sharedUse(handedOver, [work('b', 4, 6, 1.4)])
    expect(alone?.shares.map((one) => one.jobId)).toEqual(['b'])
  })

  test('is none where the stay names one job only, whoever logged work beside it', () => {
    const ofOne = [reading(0, 9, 'a', { isPutOn: true }), reading(6, 3, 'a', { isTakenOff: true })]
    expect(sharedUse(ofOne, both)).toEqual([])
  })

  test('counts a log that reaches over a reading by its time within', () => {
    const [one] = sharedUse(handedOver, [work('a', 0, 4, 4), work('b', 4, 6, 2)])
    // Half of a's log lies within: 2 and 2 expected of 4, doubts 0.15 and 0.3.
    expect(one?.shares.map((share) => share.usageKg.toFixed(6))).toEqual(['2.000000', '2.000000'])
  })
})
