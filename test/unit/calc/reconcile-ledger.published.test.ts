import { expect, test } from 'vitest'
import { openLedger } from '@/lib/calc/reconcile-ledger'
import type { GasRecord } from '@/lib/calc/reconcile-types'
import { jobUsage } from '@/lib/calc/reconcile-usage'
import { balanceVector } from './balance-vector'
import { emptyColumns } from './gas-record'
import { statisticsVector } from './statistics-vector'

type Inputs = { y: number[]; variance: number[] }

/** Readings a0 a1 a2 b0 b1 b2 of two cylinders and totals of three jobs, as the vector names them. */
const chainRecord = ({ y, variance }: Inputs): GasRecord => ({
  fillings: [0, 0, 0, 1, 1, 1],
  jobs: [-1, 0, 1, -1, 1, 2],
  contentsKg: y.slice(0, 6),
  variances: variance.slice(0, 6),
  totalsKg: y.slice(6),
  totalVariances: variance.slice(6),
})

test('two cylinders through three jobs meet the published solution', () => {
  const { inputs, expected } = balanceVector<
    Inputs,
    { lambda_: number[]; reconciled: number[]; sd: number[]; globalStatistic: number; dof: number }
  >('dr-chain-2cyl-3job')
  const ledger = openLedger(chainRecord(inputs))
  const [component, ...others] = ledger.components()
  expect(others).toEqual([])
  const { solution } = component!
  expect(solution.method).toBe('forest')
  const found = [...solution.values, ...solution.totals]
  for (const [i, value] of expected.reconciled.entries()) expect(found[i]).toBeCloseTo(value, 6)
  for (const [j, value] of expected.lambda_.entries())
    expect(solution.system.multipliers[j]).toBeCloseTo(value, 6)
  for (const [i, sd] of expected.sd.entries()) {
    const variance =
      i < 6 ? solution.varianceOf([{ reading: i, weight: 1 }]).after : solution.totalVariance(i - 6)
    expect(Math.sqrt(variance)).toBeCloseTo(sd, 6)
  }
  expect(solution.blocks).toHaveLength(1)
  expect(solution.blocks[0]?.statistic).toBeCloseTo(expected.globalStatistic, 6)
  expect(solution.blocks[0]?.degreesOfFreedom).toBe(expected.dof)
  for (const job of [0, 1, 2]) {
    const { reconciled, fromReadings } = jobUsage(ledger, job)
    expect(reconciled.mean).toBeCloseTo(expected.reconciled[6 + job] ?? 0, 6)
    expect(reconciled.standardUncertainty).toBeCloseTo(expected.sd[6 + job] ?? 0, 6)
    expect(fromReadings.standardUncertainty).toBeGreaterThan(reconciled.standardUncertainty)
  }
})

test('a reading that is 2 kg off breaks the published global test', () => {
  const { inputs, expected } = balanceVector<
    Inputs,
    { globalStatistic: number; chi2Critical95: number }
  >('dr-chain-2cyl-3job-misread')
  const block = openLedger(chainRecord(inputs)).components()[0]?.solution.blocks[0]
  expect(block?.statistic).toBeCloseTo(expected.globalStatistic, 5)
  expect(block?.statistic).toBeGreaterThan(expected.chi2Critical95)
})

test('without totals the bounds give the published isotonic fit', () => {
  const { inputs, expected } = statisticsVector('dr-pava-decreasing')
  const ledger = openLedger({
    ...emptyColumns(),
    fillings: inputs.y.map(() => 0),
    jobs: inputs.y.map((_, i) => (i === 0 ? -1 : 0)),
    contentsKg: inputs.y,
    variances: inputs.weight.map((weight) => 1 / weight),
    gauges: inputs.y.map(() => -1),
    gains: inputs.y.map(() => 1),
    totalsKg: [Number.NaN],
    totalVariances: [Number.NaN],
  })
  const { solution } = ledger.components()[0]!
  for (const [i, value] of expected.fitted.entries())
    expect(solution.values[i]).toBeCloseTo(value, 9)
  expect([...solution.isBound]).toEqual([0, 1, 1, 1, 1, 0, 0])
})
