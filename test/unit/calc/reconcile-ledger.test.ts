import { describe, expect, test } from 'vitest'
import { solveByGradients } from '@/lib/calc/reconcile-gradients'
import { openLedger } from '@/lib/calc/reconcile-ledger'
import { residualsOf, transfersOf } from '@/lib/calc/reconcile-transfers'
import { jobUsage } from '@/lib/calc/reconcile-usage'
import { denseOf, distanceFromDense, emptyColumns, randomRecord } from './gas-record'

const SHAPES = [
  ['forest', { jobs: 40, cylinders: 90, move: 'path' }],
  ['dense', { jobs: 30, cylinders: 60, move: 'anywhere' }],
  ['dense', { jobs: 30, cylinders: 60, move: 'near', gauges: 4 }],
  ['forest', { jobs: 30, cylinders: 60, move: 'path', gauges: 3, unmeasured: 0.2 }],
] as const

test('conjugate gradients give the multipliers of the dense factor to 1e-9', () => {
  const { record } = randomRecord({ seed: 'steps', jobs: 120, cylinders: 300, move: 'anywhere' })
  const { problem, solution } = openLedger(record).components()[0]!
  expect(solution.method).toBe('dense')
  const stepped = solveByGradients(transfersOf(problem), residualsOf(problem))
  for (const [j, value] of stepped.entries())
    expect(Math.abs(value - (solution.system.multipliers[j] ?? Number.NaN))).toBeLessThan(1e-9)
})

describe.each(SHAPES)('%s %j', (method, shape) => {
  const ledger = openLedger(randomRecord({ seed: 'shapes', ...shape }).record)

  test('is solved as such and equals the closed form to 1e-9', () => {
    expect(ledger.components().some((one) => one.solution.method === method)).toBe(true)
    for (const component of ledger.components().slice(0, 20))
      expect(distanceFromDense(component)).toBeLessThan(1e-9)
  })

  test('statistics and variances equal the closed form', () => {
    const component = ledger
      .components()
      .reduce((most, one) => (one.problem.totals.length > most.problem.totals.length ? one : most))
    const dense = denseOf(component.problem)
    const statistic = component.solution.blocks.reduce((sum, block) => sum + block.statistic, 0)
    expect(statistic).toBeCloseTo(dense.statistic, 7)
    const count = component.problem.values.length
    for (let i = 0; i < count; i += 7) {
      const { after } = component.solution.varianceOf([
        { reading: i, weight: 1 },
        { reading: (i + 3) % count, weight: -0.5 },
      ])
      const [own, other] = [dense.covariance[i] ?? [], dense.covariance[(i + 3) % count] ?? []]
      const wanted =
        (own[i] ?? 0) - (own[(i + 3) % count] ?? 0) + 0.25 * (other[(i + 3) % count] ?? 0)
      expect(after).toBeCloseTo(wanted, 9)
    }
    for (let j = 0; j < component.problem.totals.length; j += 5)
      expect(component.solution.totalVariance(j)).toBeCloseTo(
        dense.covariance[count + j]?.[count + j] ?? 0,
        9,
      )
  })
})

test('entries of a large sparse inverse equal those of solving for them', () => {
  const ledger = openLedger(
    randomRecord({ seed: 'selected', jobs: 400, cylinders: 1600, move: 'near' }).record,
  )
  const { solution, problem } = ledger.components()[0]!
  expect(solution.method).toBe('gradients')
  for (let j = 0; j < problem.totals.length; j += 37) {
    const unit = new Float64Array(problem.totals.length)
    unit[j] = 1
    const column = solution.system.solve(unit)
    expect(solution.system.inverse(j, j)).toBeCloseTo(column[j] ?? 0, 9)
    const neighbour = [...problem.opens].findIndex(
      (a, i) => a === j && (problem.closes[i] ?? -1) >= 0,
    )
    const k = problem.closes[neighbour] ?? -1
    if (neighbour >= 0 && k !== j)
      expect(solution.system.inverse(j, k)).toBeCloseTo(column[k] ?? 0, 9)
  }
})

test('a graph that fills up leaves entries out, and variances come from solving', () => {
  const ledger = openLedger(
    randomRecord({ seed: 'full', jobs: 300, cylinders: 2500, move: 'anywhere' }).record,
  )
  const { solution } = ledger.components()[0]!
  expect(solution.system.inverse(0, 1)).toBeNaN()
  const { before, after } = solution.varianceOf([{ reading: 5, weight: 1 }])
  expect(after).toBeGreaterThan(0)
  expect(after).toBeLessThan(before)
})

describe('bounds', () => {
  const rising = {
    ...emptyColumns(),
    fillings: [0, 0, 0, 0],
    jobs: [-1, 0, 1, 2],
    contentsKg: [10, 6, 7.5, -0.4],
    variances: [0.0025, 0.0625, 0.0625, 0.0625],
    gauges: [-1, -1, -1, -1],
    gains: [1, 1, 1, 1],
    totalsKg: [4, 0.1, 6],
    totalVariances: [0.25, 0.25, 0.25],
  }

  test('contents never rise or go below nought, no job uses less than nothing, and all closes', () => {
    const ledger = openLedger(rising)
    const { values, totals, isBound } = ledger.components()[0]!.solution
    const [a = 0, b = 0, c = 0, d = 0] = values
    expect(a).toBeGreaterThanOrEqual(b)
    expect(b).toBe(c)
    expect(c).toBeGreaterThanOrEqual(d)
    expect(d).toBe(0)
    expect([...isBound]).toEqual([0, 1, 1, 1])
    for (const [j, used] of [a - b, b - c, c - d].entries()) expect(totals[j]).toBeCloseTo(used, 9)
    expect(jobUsage(ledger, 1)).toMatchObject({ reconciled: { mean: 0 }, boundReadings: 2 })
  })

  test('the uncertainty of a bound job stays that of the balances without the bound', () => {
    expect(jobUsage(openLedger(rising), 1).reconciled.standardUncertainty).toBeGreaterThan(0.1)
  })
})

describe('one reading more', () => {
  const { record } = randomRecord({
    seed: 'more',
    jobs: 40,
    cylinders: 60,
    move: 'near',
    unmeasured: 0.1,
    gauges: 2,
  })
  const upTo = (count: number) => ({
    ...record,
    fillings: record.fillings.slice(0, count),
    jobs: record.jobs.slice(0, count),
    contentsKg: record.contentsKg.slice(0, count),
    variances: record.variances.slice(0, count),
    gauges: record.gauges.slice(0, count),
    gains: record.gains.slice(0, count),
  })
  const readingAt = (place: number) => ({
    filling: record.fillings[place] ?? 0,
    job: record.jobs[place] ?? -1,
    contentsKg: record.contentsKg[place] ?? 0,
    variance: record.variances[place] ?? 1,
    gauge: record.gauges[place] ?? -1,
    gain: record.gains[place] ?? 1,
  })

  test('gives the same bits as the whole record opened at once', () => {
    const grown = openLedger(upTo(20))
    for (let place = 20; place < record.fillings.length; place += 1) grown.add(readingAt(place))
    const whole = openLedger(record)
    const bits = (ledger: typeof whole) =>
      ledger.components().map(({ readings, jobs, gauges, solution }) => ({
        readings: [...readings],
        jobs: [...jobs],
        gauges: [...gauges],
        values: [...solution.values],
        totals: [...solution.totals],
        errors: [...solution.gaugeErrors],
        blocks: solution.blocks,
      }))
    expect(bits(grown)).toEqual(bits(whole))
    expect(bits(openLedger(record))).toEqual(bits(whole))
  })

  test('leaves every other component as it was', () => {
    const apart = { ...record, gauges: record.gauges.map(() => -1), gaugeVariances: [] }
    const ledger = openLedger({
      ...apart,
      totalsKg: record.totalsKg.map((kg, j) => (j % 4 ? kg : Number.NaN)),
    })
    const before = ledger.components()
    const place = ledger.add({ filling: 0, job: 1, contentsKg: 1, variance: 0.06 })
    const touched = ledger.componentOfReading(place)
    const kept = ledger.components().filter((one) => one !== touched)
    expect(kept.length).toBeGreaterThan(0)
    for (const component of kept) expect(before).toContain(component)
    expect(ledger.contentsOf(place)).toBe(1)
  })

  test('a job added later joins when its first reading comes', () => {
    const ledger = openLedger(upTo(30))
    const job = ledger.addJob(3, 0.25)
    expect(ledger.componentOfJob(job)).toBeNull()
    ledger.add({ filling: 0, job, contentsKg: 0.5, variance: 0.06 })
    expect(ledger.componentOfJob(job)?.jobs).toContain(job)
  })
})

const tiny = {
  fillings: [0, 0],
  jobs: [-1, 0],
  contentsKg: [10, 4],
  variances: [0.01, 0.06],
  totalsKg: [6],
  totalVariances: [0.1],
}

test.each([
  ['a variance of nought', { ...tiny, variances: [0, 0.06] }],
  ['a total known exactly', { ...tiny, totalVariances: [0] }],
  ['a job that is not there', { ...tiny, jobs: [-1, 3] }],
  ['contents that are no number', { ...tiny, contentsKg: [10, Number.NaN] }],
  ['a first reading that ends a job', { ...tiny, jobs: [0, 0] }],
  ['a gauge that is not there', { ...tiny, gauges: [-1, 0] }],
  ['half a filling', { ...tiny, fillings: [0.5, 0.5] }],
])('%s is an error', (_what, record) => {
  expect(() => openLedger(record)).toThrow(/OUT_OF_RANGE|NOT_FINITE|WRONG_ORDER/)
})
