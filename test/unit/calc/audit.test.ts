import { describe, expect, test } from 'vitest'
import { auditJob } from '@/lib/calc/audit'
import type { AuditInput, AuditReading, JobAudit } from '@/lib/calc/audit-types'

const reading = (atMs: number, gasKg: number, more: Partial<AuditReading> = {}): AuditReading => ({
  atMs,
  gasKg,
  standardUncertaintyKg: 0.2,
  ...more,
})
const job = (more: Partial<AuditInput> = {}): AuditInput => ({
  gas: 'oxygen',
  spans: [
    { cylinderId: 'a', readings: [reading(0, 9), reading(10, 5), reading(20, 1)] },
    { cylinderId: 'b', readings: [reading(20, 9), reading(30, 6)] },
  ],
  estimate: { meanKg: 10, standardUncertaintyKg: 2 },
  ...more,
})
const audited = (input: AuditInput): JobAudit => {
  const outcome = auditJob(input)
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusals))
  return outcome
}

describe('auditJob', () => {
  // 8 kg from a and 3 from b; each difference of two readings of 0.2 kg: 0.2 √2; both: 0.4; with 2 kg: √4.16.
  test('adds up the cylinders, with uncertainty by quadrature', () => {
    const audit = audited(job())
    expect(audit.usage).toMatchObject({ mean: 11, standardUncertainty: expect.closeTo(0.4, 12) })
    expect(audit.spans.map((span) => span.usageKg)).toEqual([8, 3])
    expect(audit.spans[0]?.intervals.map((interval) => interval.usageKg)).toEqual([4, 4])
    expect(audit.difference).toMatchObject({
      mean: 1,
      standardUncertainty: expect.closeTo(Math.sqrt(4.16), 12),
    })
    expect(audit.z).toBeCloseTo(1 / Math.sqrt(4.16), 12)
    expect(audit.statistic).toBeCloseTo(audit.z ** 2, 12)
  })

  test('a swap in the middle of a job counts both cylinders and nothing in between', () => {
    const oneCylinder = audited(
      job({ spans: [{ cylinderId: 'a', readings: [reading(0, 20), reading(30, 9)] }] }),
    )
    expect(audited(job()).usage.mean).toBe(oneCylinder.usage.mean)
  })

  test('the ratio is usage over estimate, with both uncertainties', () => {
    const { ratio } = audited(job())
    expect(ratio.mean).toBeCloseTo(1.1, 12)
    expect(ratio.standardUncertainty).toBeCloseTo(Math.hypot(0.4 / 10, (1.1 * 2) / 10), 12)
    expect(ratio.low90).toBeLessThan(1.1)
    expect(ratio.high90).toBeGreaterThan(1.1)
  })

  test('the reconciled parts make up the reconciled total', () => {
    const { spans, reconciled } = audited(job())
    expect(spans.reduce((sum, span) => sum + span.reconciledKg, 0)).toBeCloseTo(
      reconciled.totalKg,
      9,
    )
    expect(reconciled.totalKg).toBeGreaterThan(10.9)
    expect(reconciled.standardUncertaintyKg).toBeLessThan(0.4)
  })

  test('contents never rise: a reading that went up is bound, and usage is not negative', () => {
    const spans = [{ cylinderId: 'a', readings: [reading(0, 5), reading(10, 5.4)] }]
    const audit = audited(job({ spans }))
    expect(audit.usage.mean).toBe(0)
    expect(audit.spans[0]).toMatchObject({ usageKg: 0, boundReadings: 2 })
    expect(audit.ratio.low90).toBe(0)
    expect(audit.factorWeightKg).toBeGreaterThanOrEqual(0)
    expect(audit.factorWeightKg).toBeLessThan(1e-6)
  })

  test('names gauges that several stays share, and cylinders with a single reading', () => {
    const spans = [
      {
        cylinderId: 'a',
        readings: [reading(0, 9, { gaugeId: 'g1' }), reading(9, 4, { gaugeId: 'g1' })],
      },
      {
        cylinderId: 'b',
        readings: [reading(9, 9, { gaugeId: 'g1' }), reading(20, 4, { gaugeId: 'g2' })],
      },
      { cylinderId: 'c', readings: [reading(20, 9)] },
    ]
    expect(audited(job({ spans }))).toMatchObject({
      sharedGaugeIds: ['g1'],
      incompleteCylinderIds: ['c'],
      usage: { mean: 10 },
    })
  })

  test.each<[Partial<AuditInput>, string, string]>([
    [{ spans: [] }, 'NO_READINGS', 'spans'],
    [{ spans: [{ cylinderId: 'a', readings: [reading(0, 9)] }] }, 'NO_READINGS', 'spans'],
    [
      { spans: [{ cylinderId: 'a', readings: [reading(9, 9), reading(0, 4)] }] },
      'READINGS_OUT_OF_ORDER',
      'spans.0.readings.1.atMs',
    ],
    [
      { spans: [{ cylinderId: 'a', readings: [reading(0, -1), reading(9, 4)] }] },
      'OUT_OF_RANGE',
      'spans.0.readings.0.gasKg',
    ],
    [{ estimate: { meanKg: 0, standardUncertaintyKg: 1 } }, 'OUT_OF_RANGE', 'estimate.meanKg'],
    [
      { estimate: { meanKg: 1, standardUncertaintyKg: Number.NaN } },
      'OUT_OF_RANGE',
      'estimate.standardUncertaintyKg',
    ],
  ])('refuses %j as %s on %s', (more, code, field) => {
    expect(auditJob(job(more))).toMatchObject({
      ok: false,
      refusals: [expect.objectContaining({ code, field })],
    })
  })
})
