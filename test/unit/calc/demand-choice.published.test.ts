import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { readDemandFile } from '@/bin/demand-file'
import { backtest } from '@/lib/calc/backtest'
import {
  adaptAlpha,
  conformalQuantile,
  conformalRank,
  conformalScore,
  scoreSpread,
} from '@/lib/calc/conformal'
import { demandClass } from '@/lib/calc/demand-class'
import {
  type DemandMethod,
  demandMean,
  demandVariance,
  emptyDemand,
  learnDemand,
} from '@/lib/calc/demand-methods'
import {
  coverage,
  meanAbsoluteScaledError,
  plainErrors,
  rootMeanSquaredScaledError,
} from '@/lib/calc/forecast-accuracy'
import { crostonForecasts, crostonState, smoothLevels } from '@/lib/calc/intermittent'

// Each vector carries its source, and whether it was read or computed elsewhere.
const vectors = JSON.parse(readFileSync('test/vectors/calc/forecast-accuracy.json', 'utf8'))
const vector = (id: string) => vectors.find((row: { id: string }) => row.id === id)
const text = (name: string) => readFileSync(`test/vectors/datasets/${name}`, 'utf8')
const complete = (name: string) => readDemandFile(text(name)).series
/** All rows, blanks dropped: for the classes, which were counted so. */
const seenOf = (name: string) =>
  text(name)
    .trim()
    .split('\n')
    .slice(1)
    .map((row) =>
      row
        .split(',')
        .slice(1)
        .filter((cell) => cell !== '')
        .map(Number),
    )
const learned = (values: readonly number[]) => {
  const state = emptyDemand()
  for (const value of values) learnDemand(state, value)
  return state
}
const mean = (values: readonly number[]) =>
  values.reduce((sum, one) => sum + one, 0) / values.length

test.each(['carparts-monthly.csv', 'simulated-intermittent.csv'])('classes of %s', (name) => {
  const { expected } = vector('classify-demand')
  const found = { smooth: 0, erratic: 0, intermittent: 0, lumpy: 0, sparse: 0 }
  for (const demand of seenOf(name)) found[demandClass(demand).demandClass] += 1
  const { sparse, ...classes } = found
  expect(classes).toEqual(expected[name].populationSd)
  expect(sparse).toBe(expected[name].skipped)
  // By the sample form of the spread more are lumpy or erratic: the form is named wherever classes are.
  const { lumpy, erratic } = expected[name].sampleSd
  expect(lumpy + erratic).toBeGreaterThan(classes.lumpy + classes.erratic)
})

describe('errors beside those of repeating the last value', () => {
  test('of a hold-out of sparse demand', () => {
    const { inputs, expected } = vector('metrics-mase-productC')
    const masOf = (forecast: number) =>
      meanAbsoluteScaledError(
        inputs.test.map((actual: number) => ({ forecast, actual })),
        inputs.train,
      )
    expect(masOf(0)).toBeCloseTo(expected.zeroForecast, 8)
    expect(masOf(1.333333333)).toBeCloseTo(expected.flat1_333333333, 8)
  })

  test('of quarterly sales with a season, as a textbook’s table has them', () => {
    const { inputs, expected } = vector('metrics-beer')
    const { train, test: held, seasonalScale } = inputs
    const forecasts: Record<string, (i: number) => number> = {
      mean: () => mean(train),
      naive: () => train.at(-1),
      seasonalNaive: (i) => train[train.length - seasonalScale + (i % seasonalScale)],
    }
    for (const [name, at] of Object.entries(forecasts)) {
      const pairs = held.map((actual: number, i: number) => ({ forecast: at(i), actual }))
      const { rmse, mae, mapePct } = plainErrors(pairs)
      const mase = meanAbsoluteScaledError(pairs, train, seasonalScale)
      const published = expected[name]
      for (const [found, value] of [
        [rmse, published.rmse],
        [mae, published.mae],
        [mapePct, published.mape],
        [mase, published.mase],
      ])
        expect(Math.abs(found - value), name).toBeLessThan(0.0005)
      const printed = [rmse, mae, mapePct, mase].map((one) => Number(one?.toFixed(2)))
      expect(printed, name).toEqual(expected.printed[name])
    }
    const pairs = held.map((actual: number, i: number) => ({
      forecast: forecasts.seasonalNaive?.(i) ?? 0,
      actual,
    }))
    const { rmsse_lag1: lag1, rmsse_lag4: lag4 } = expected.seasonalNaive
    expect(rootMeanSquaredScaledError(pairs, train)).toBeCloseTo(lag1, 6)
    expect(rootMeanSquaredScaledError(pairs, train, 4)).toBeCloseTo(lag4, 6)
  })

  test.each([
    ['zero', 'zero'],
    ['mean', 'mean'],
    ['ses', 'ses_0.1'],
    ['croston', 'croston_0.1'],
    ['sba', 'sba_0.1'],
  ] as const)('of %s on the car parts, last twelve months held out', (method, printed) => {
    const published = vector('backtest-baselines').expected['carparts-monthly.csv']
    const figures = { mase: [] as number[], rmsse: [] as number[], mae: [] as number[] }
    const totals = { forecast: 0, actual: 0 }
    for (const demand of complete('carparts-monthly.csv')) {
      const history = demand.slice(0, published.train)
      const forecast = demandMean(learned(history), method)
      const pairs = demand.slice(published.train).map((actual) => ({ forecast, actual }))
      totals.forecast += forecast * pairs.length
      totals.actual += pairs.reduce((sum, pair) => sum + pair.actual, 0)
      const mase = meanAbsoluteScaledError(pairs, history)
      const rmsse = rootMeanSquaredScaledError(pairs, history)
      figures.mae.push(plainErrors(pairs).mae)
      if (mase === null || rmsse === null) continue
      figures.mase.push(mase)
      figures.rmsse.push(rmsse)
    }
    expect(figures.mase).toHaveLength(published.used)
    const metrics = published.metrics[printed]
    expect(mean(figures.mase)).toBeCloseTo(metrics.mase, 4)
    expect(mean(figures.rmsse)).toBeCloseTo(metrics.rmsse, 4)
    expect(mean(figures.mae)).toBeCloseTo(metrics.mae, 4)
    expect(totals.forecast / totals.actual).toBeCloseTo(metrics.sumForecastOverSumActual, 4)
  })
})

test('the one-pass states are those of the published smoothers', () => {
  for (const demand of complete('simulated-intermittent.csv').slice(0, 60)) {
    const state = learned(demand)
    const croston = crostonState(demand, 0.1, 0.1)
    const both = croston ? crostonForecasts(croston, 0.1) : { croston: 0, sba: 0 }
    const expected: Partial<Record<DemandMethod, number>> = {
      ses: smoothLevels(demand, 0.1).at(-1) ?? 0,
      croston: both.croston,
      sba: both.sba,
      mean: mean(demand),
    }
    for (const [method, value] of Object.entries(expected))
      expect(demandMean(state, method as DemandMethod)).toBeCloseTo(value, 10)
    const plain = demand.reduce((sum, one) => sum + (one - mean(demand)) ** 2, 0)
    expect(demandVariance(state)).toBeCloseTo(plain / (demand.length - 1), 8)
  }
})

describe('bounds corrected by past windows', () => {
  test('the rank rule', () => {
    const { expected } = vector('conformal-rank')
    expect(conformalRank(expected.minCalibration['alpha0.05'], 0.95)).toBe(19)
    expect(conformalRank(18, 0.95)).toBeNull()
    expect(conformalRank(expected.minCalibration['alpha0.01'], 0.99)).toBe(99)
    expect(conformalRank(98, 0.99)).toBeNull()
    expect(conformalRank(100, 0.9)).toBe(expected.rank_n100_alpha0_1)
  })

  test('pooled scores and what they cover on the car parts', () => {
    const expected = vector('backtest-conformal').expected['carparts-monthly.csv']
    const series = complete('carparts-monthly.csv')
    const windowsAfter = (train: number) =>
      series.flatMap((demand) => {
        const state = learned(demand.slice(0, train))
        const forecast = {
          mean: 3 * demandMean(state, 'mean'),
          variance: 3 * demandVariance(state),
        }
        return [0, 3, 6, 9].map((at) => ({
          ...forecast,
          total: demand.slice(train + at, train + at + 3).reduce((sum, one) => sum + one, 0),
        }))
      })
    const scores = Float64Array.from(windowsAfter(27), conformalScore).sort()
    const judged = windowsAfter(39)
    for (const [probability, [score, share]] of Object.entries(expected) as [string, number[]][]) {
      const found = conformalQuantile(scores, Number(probability)) ?? Number.NaN
      expect(found).toBeCloseTo(score ?? 0, 3)
      const held = judged.filter(
        ({ mean: middle, variance, total }) =>
          total <= middle + found * scoreSpread(middle, variance) + 1e-9,
      ).length
      expect(held / judged.length).toBeCloseTo(share ?? 0, 3)
    }
  })

  test('a bound that keeps missing is asked for less often missing', () => {
    const target = 0.05
    const after = adaptAlpha({ alpha: 0.05, target }, true)
    expect(after).toBeCloseTo(0.0405, 10)
    expect(adaptAlpha({ alpha: after, target }, false)).toBeCloseTo(0.041, 10)
  })

  // NIST/SEMATECH e-Handbook 7.2.4.1: 4 defectives among 20 give 0.081 to 0.416 (printed to three digits, from memory).
  test('what chance makes of a share', () => {
    const { share, low, high } = coverage({ held: 4, count: 20 })
    expect(share).toBe(0.2)
    expect(low).toBeCloseTo(0.081, 3)
    expect(high).toBeCloseTo(0.416, 3)
  })
})

describe.each(['simulated-intermittent.csv', 'carparts-monthly.csv'])(
  'the chosen forecast on %s, twelve origins',
  (name) => {
    const { rows } = backtest(complete(name))
    const chosen = rows.find((row) => row.method === 'chosen')

    test.each([0, 1])('costs at most 2 %% more than the best, at chance %i', (at) => {
      const best = Math.min(...rows.map((row) => row.pinball[at] ?? Number.NaN))
      expect(chosen?.pinball[at]).toBeLessThanOrEqual(best * 1.02)
    })

    test('forecasts within a fifth of what came, and its 0.95 bound covers 0.94 to 0.97', () => {
      expect(chosen?.windows).toBeGreaterThan(7000)
      expect(Math.abs((chosen?.bias ?? 0) - 1)).toBeLessThanOrEqual(0.2)
      expect(chosen?.coverage[1]?.share).toBeGreaterThanOrEqual(0.94)
      expect(chosen?.coverage[1]?.share).toBeLessThanOrEqual(0.97)
    })
  },
)
