import { expect, test } from 'vitest'
import { auditJob } from '@/lib/calc/audit'
import { balance } from '@/lib/calc/balance'
import { fitFalling } from '@/lib/calc/isotonic'
import { statisticsVector } from './statistics-vector'

test('one balance of three parts against a total meets the published solution', () => {
  const { inputs, expected } = statisticsVector('dr-single-constraint')
  const solved = balance({
    parts: inputs.parts.map((value, i) => ({ value, variance: inputs.variance[i] ?? 0 })),
    total: { value: inputs.total, variance: inputs.totalVariance },
  })
  for (const [i, part] of solved.parts.entries())
    expect(part.value).toBeCloseTo(expected.parts[i] ?? 0, 7)
  expect(solved.total.value).toBeCloseTo(expected.total, 7)
  expect(solved.statistic).toBeCloseTo(expected.statistic, 7)
})

test('the audit of a job is that balance', () => {
  const { inputs, expected } = statisticsVector('dr-single-constraint')
  const audit = auditJob({
    gas: 'oxygen',
    estimate: { meanKg: inputs.total, standardUncertaintyKg: Math.sqrt(inputs.totalVariance) },
    spans: inputs.parts.map((usageKg, i) => ({
      cylinderId: String(i),
      // Two readings of equal variance whose difference has the published one.
      readings: [usageKg + 1, 1].map((gasKg, n) => ({
        atMs: n,
        gasKg,
        standardUncertaintyKg: Math.sqrt((inputs.variance[i] ?? 0) / 2),
      })),
    })),
  })
  if (!audit.ok) throw new Error('refused')
  for (const [i, span] of audit.spans.entries())
    expect(span.reconciledKg).toBeCloseTo(expected.parts[i] ?? 0, 7)
  expect(audit.reconciled.totalKg).toBeCloseTo(expected.total, 7)
  expect(audit.statistic).toBeCloseTo(expected.statistic, 7)
})

test('contents that can not rise meet the published isotonic fit', () => {
  const { inputs, expected } = statisticsVector('dr-pava-decreasing')
  const fitted = fitFalling(inputs.y.map((value, i) => ({ value, weight: inputs.weight[i] ?? 0 })))
  expect(fitted).toHaveLength(7)
  for (const [i, value] of fitted.entries()) expect(value).toBeCloseTo(expected.fitted[i] ?? 0, 9)
})
