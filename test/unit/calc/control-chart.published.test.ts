import { expect, test } from 'vitest'
import {
  cusumChart,
  ewmaChart,
  lossThreshold,
  startCusum,
  stepCusum,
} from '@/lib/calc/control-chart'
import {
  cusumRunLength,
  decisionInterval,
  ewmaRunLength,
  fleetDecisionInterval,
  limitWidth,
  twoSidedCusumRunLength,
} from '@/lib/calc/control-chart-run-length'
import { balanceVector } from './balance-vector'

const relative = (value: number, wanted: number | undefined) =>
  Math.abs(value / (wanted ?? Number.NaN) - 1)

test('the tabular sum meets the printed chart, its signal and where the rise began', () => {
  const { inputs, expected } = balanceVector<
    { x: number[]; target: number; k: number; h: number },
    { high: number[]; low: number[]; firstSignal1Based: number }
  >('cusum-nist-6323')
  const plan = { k: inputs.k, h: inputs.h }
  const high = cusumChart(
    inputs.x.map((x) => x - inputs.target),
    plan,
  )
  const low = cusumChart(
    inputs.x.map((x) => inputs.target - x),
    plan,
  )
  for (const [i, value] of expected.high.entries())
    expect(high.points[i]?.sum).toBeCloseTo(value, 9)
  for (const [i, value] of expected.low.entries()) expect(low.points[i]?.sum).toBeCloseTo(value, 9)
  expect(high.firstSignal).toEqual({ place: expected.firstSignal1Based - 1, onset: 12 })
  expect(low.firstSignal).toBeNull()
})

test('the moving average meets the printed chart; the printed lower limit was rounded on the way', () => {
  const { inputs, expected } = balanceVector<
    { x: number[]; lambda_: number; target: number; sigma: number; L: number },
    { ewma2dp: number[]; ucl: number; lcl: number; lclPrinted: number }
  >('ewma-nist-6324')
  // Long in control before, so that the limits have settled as the page has them.
  const settled = 200
  const points = ewmaChart({
    values: [...new Array<number>(settled).fill(inputs.target), ...inputs.x],
    target: inputs.target,
    sd: inputs.sigma,
    lambda: inputs.lambda_,
    width: inputs.L,
  }).slice(settled)
  for (const [i, value] of expected.ewma2dp.entries())
    expect(Math.abs((points[i]?.average ?? 0) - value)).toBeLessThanOrEqual(0.0051)
  expect(points[0]?.high).toBeCloseTo(expected.ucl, 5)
  expect(points[0]?.low).toBeCloseTo(expected.lcl, 5)
  expect(points.some((point) => point.isOut)).toBe(false)
  expect(Math.abs((points[0]?.low ?? 0) - expected.lclPrinted)).toBeGreaterThan(5e-5)
})

test('run lengths of cumulative sums meet Lucas and Crosier', () => {
  const { inputs, expected } = balanceVector<
    { k: number; h: number; shift: number[] },
    {
      arl: number[]
      arlFir: number[]
      oneSided_h4: number[]
      oneSided_h5: number[]
      arlPrinted: number[]
    }
  >('arl-cusum-lucas-crosier')
  for (const [i, shift] of inputs.shift.entries()) {
    const plan = { k: inputs.k, h: inputs.h, shift }
    expect(relative(twoSidedCusumRunLength(plan), expected.arl[i])).toBeLessThan(0.002)
    expect(relative(twoSidedCusumRunLength(plan), expected.arlPrinted[i])).toBeLessThan(0.004)
    expect(
      relative(twoSidedCusumRunLength({ ...plan, start: 2 }), expected.arlFir[i]),
    ).toBeLessThan(0.002)
    expect(relative(cusumRunLength(plan), expected.oneSided_h4[i])).toBeLessThan(0.002)
    expect(relative(cusumRunLength({ ...plan, h: 5 }), expected.oneSided_h5[i])).toBeLessThan(0.002)
  }
})

test('decision intervals meet the table', () => {
  const { inputs, expected } = balanceVector<{ arl0: number[] }, Record<string, number[]>>(
    'arl-cusum-h-table',
  )
  for (const [name, k] of [
    ['k0_25', 0.25],
    ['k0_5', 0.5],
    ['k1', 1],
  ] as const)
    for (const [i, runLength] of inputs.arl0.entries())
      expect(
        Math.abs(decisionInterval({ k, runLength }) - (expected[name]?.[i] ?? 0)),
      ).toBeLessThan(0.001)
})

test('a fleet of 100,000 read weekly that bears ten false alarms a week decides at 7.361', () => {
  const h = fleetDecisionInterval({
    k: 0.5,
    charts: 100_000,
    valuesPerPeriod: 1,
    falseAlarmsPerPeriod: 10,
  })
  expect(h).toBeCloseTo(7.361, 3)
})

test('run lengths of moving averages meet Crowder and Lucas & Saccucci; 3.95 in print is a misprint of 3.59', () => {
  const { inputs, expected } = balanceVector<
    {
      crowder: { lambda_: number[]; L: number; mu: number[] }
      lucasSaccucci: { lambda_: number[]; L: number[]; mu: number[] }
    },
    { crowder: number[][]; lucasSaccucci: number[][]; sas: number }
  >('arl-ewma')
  for (const [n, lambda] of inputs.crowder.lambda_.entries())
    for (const [i, shift] of inputs.crowder.mu.entries()) {
      const length = ewmaRunLength({ lambda, width: inputs.crowder.L, shift })
      expect(relative(length, expected.crowder[n]?.[i])).toBeLessThan(0.001)
    }
  for (const [n, lambda] of inputs.lucasSaccucci.lambda_.entries())
    for (const [i, shift] of inputs.lucasSaccucci.mu.entries()) {
      const length = ewmaRunLength({ lambda, width: inputs.lucasSaccucci.L[n] ?? 0, shift })
      expect(relative(length, expected.lucasSaccucci[n]?.[i])).toBeLessThan(0.001)
    }
  expect(relative(ewmaRunLength({ lambda: 0.25, width: 3, shift: 1 }), expected.sas)).toBeLessThan(
    1e-6,
  )
  const misprinted = ewmaRunLength({ lambda: 0.5, width: 2, shift: 1.25 })
  expect(Math.abs(misprinted - 3.95)).toBeGreaterThan(0.3)
})

test('widths of moving averages meet the table', () => {
  const { inputs, expected } = balanceVector<
    { lambda_: number[] },
    { arl370: number[]; arl500: number[] }
  >('ewma-L-table')
  for (const [i, lambda] of inputs.lambda_.entries()) {
    expect(
      Math.abs(limitWidth({ lambda, runLength: 370 }) - (expected.arl370[i] ?? 0)),
    ).toBeLessThan(0.001)
    expect(
      Math.abs(limitWidth({ lambda, runLength: 500 }) - (expected.arl500[i] ?? 0)),
    ).toBeLessThan(0.001)
  }
})

test('the two-term sieve has the form of the rule for tanks', () => {
  const { inputs, expected } = balanceVector<{ throughput: number }, { threshold: number }>(
    'loss-threshold-epa',
  )
  expect(lossThreshold(inputs.throughput, { share: 0.01, fixed: 130 })).toBe(expected.threshold)
})

test('a signal does not set the sum back; only a start after repair does, and half way', () => {
  const plan = { k: 0.5, h: 4 }
  let state = startCusum(plan)
  for (let n = 0; n < 6; n += 1) state = stepCusum(plan, state, 2)
  expect(state).toEqual({ sum: 9, count: 6, onset: 0, isOut: true })
  expect(stepCusum(plan, state, 0)).toEqual({ sum: 8.5, count: 7, onset: 0, isOut: true })
  expect(startCusum(plan, true).sum).toBe(2)
})

test.each([
  [() => startCusum({ k: 0, h: 4 })],
  [() => startCusum({ k: 0.5, h: 0 })],
  [() => decisionInterval({ k: 0.5, runLength: 1e9 })],
  [() => ewmaChart({ values: [Number.NaN], target: 0, sd: 1, lambda: 0.2, width: 3 })],
])('what no chart has is an error: %s', (call) => {
  expect(call).toThrow(/OUT_OF_RANGE|NOT_FINITE/)
})
