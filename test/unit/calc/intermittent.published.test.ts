import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import {
  crostonForecasts,
  crostonState,
  smoothLevels,
  tsbForecasts,
} from '../../../lib/calc/intermittent'

// Each vector carries its source, and whether it was read, computed or is from memory.
const vectors = JSON.parse(readFileSync('test/vectors/calc/intermittent.json', 'utf8'))
const vector = (id: string) => vectors.find((row: { id: string }) => row.id === id)

test('exponential smoothing meets NIST 6.4.3.1 and 6.4.3.4', () => {
  for (const [id, digits] of [
    ['ses-nist-6431', 6],
    ['ses-nist-6434', 5],
  ] as const) {
    const { inputs, expected } = vector(id)
    const levels = smoothLevels(inputs.y, inputs.alpha)
    const printed: number[] = expected.smoothed
    expect(printed.length).toBeGreaterThan(9)
    for (const [i, value] of printed.entries()) expect(levels[i]).toBeCloseTo(value, digits)
  }
})

/** Squared errors of forecasting each value by the level before it. */
const squaredErrors = (values: readonly number[], alpha: number) => {
  const levels = smoothLevels(values, alpha)
  return values.slice(1).map((value, i) => (value - (levels[i] ?? 0)) ** 2)
}
const sumOf = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0)

test('its mean squared errors are the published ones; two that the page prints came of rounded rows', () => {
  const first = vector('ses-nist-6431')
  const errors = squaredErrors(first.inputs.y, first.inputs.alpha)
  expect(sumOf(errors) / errors.length).toBeCloseTo(first.expected.mse, 6)
  expect(Math.round(first.expected.mse)).toBe(first.expected.msePrinted)
  // At a weight of 0.5 the page has 208.94 in all and 16.29 in the mean, from memory.
  const half = squaredErrors(first.inputs.y, 0.5)
  expect(Math.abs(sumOf(half) - 208.94)).toBeGreaterThan(0.1)
  const trend = vector('ses-nist-6434')
  const mse = (alpha: number) => {
    const found = squaredErrors(trend.inputs.y, alpha)
    return sumOf(found) / found.length
  }
  expect(mse(0.977)).toBeCloseTo(trend.expected.mseAlpha0977, 5)
  expect(mse(1)).toBeCloseTo(trend.expected.mseAlpha1, 6)
  expect(Number(mse(1).toFixed(4))).toBe(trend.expected.mseAlpha1Printed)
})

test('Croston and its two corrections on monthly lubricant sales', () => {
  const { inputs, expected } = vector('croston-productC')
  const state = crostonState(inputs.y, 0.1, 0.1)
  if (!state) throw new Error('no demand')
  expect(state.size).toBeCloseTo(expected.size, 5)
  expect(state.interval).toBeCloseTo(expected.interval, 5)
  const forecasts = crostonForecasts(state, 0.1)
  for (const name of ['croston', 'sba', 'sbj'] as const)
    expect(forecasts[name]).toBeCloseTo(expected[name], 6)
  const slower = crostonState(inputs.y, 0.1, 0.2)
  expect(slower?.interval).toBeCloseTo(expected.interval_0_2, 5)
})

test('TSB on the same series from both starts', () => {
  const { inputs, expected } = vector('tsb-productC')
  const weights = { size: 0.1, chance: 0.05 }
  const from = (chance: number) => tsbForecasts(inputs.y, weights, { size: 2, chance }).at(-1)
  expect(from(0)).toBeCloseTo(expected.forecastInitProb0, 6)
  expect(from(0.5)).toBeCloseTo(expected.forecastInitProb05, 6)
})

test('the ten-point series, each forecast made before its period', () => {
  const { inputs, expected } = vector('croston-family-10pt')
  const { alpha, beta } = inputs.croston
  for (let seen = 0; seen <= inputs.y.length; seen++) {
    const state = crostonState(inputs.y.slice(0, seen), alpha, beta)
    for (const name of ['croston', 'sba', 'sbj'] as const) {
      const value = expected[name][seen]
      if (value === null) expect(state).toBeNull()
      else if (state) expect(crostonForecasts(state, beta)[name]).toBeCloseTo(value, 5)
      else throw new Error(`no forecast after ${seen} periods`)
    }
  }
  const tsb = tsbForecasts(inputs.y, { size: 0.3, chance: 0.1 }, { size: 3, chance: 0.3 })
  for (const [i, value] of tsb.entries()) expect(value).toBeCloseTo(expected.tsb[i + 1], 5)
})

test('nothing used yet: no Croston forecast, TSB and smoothing stay at zero', () => {
  expect(crostonState([0, 0, 0], 0.1, 0.1)).toBeNull()
  expect(tsbForecasts([0, 0], { size: 0.1, chance: 0.1 }, { size: 0, chance: 0 })).toEqual([0, 0])
  expect(smoothLevels([0, 0], 0.2)).toEqual([0, 0])
})
