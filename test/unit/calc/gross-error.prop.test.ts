import fc from 'fast-check'
import { describe, expect, test, vi } from 'vitest'
import { readingSignature } from '@/lib/calc/gross-error-candidates'
import { globalTests, rejectionLevel } from '@/lib/calc/gross-error-global'
import { equivalenceSets, likelihoodOf } from '@/lib/calc/gross-error-likelihood'
import { readingTests } from '@/lib/calc/gross-error-readings'
import { compensateSerially } from '@/lib/calc/gross-error-serial'
import { type Ledger, openLedger } from '@/lib/calc/reconcile-ledger'
import { randomRecord } from './gas-record'

// Whole companies are made up and explained: some seconds where the machine is busy.
vi.setConfig({ testTimeout: 60_000 })

const COMPANIES = 60
const recordOf = (seed: string) =>
  randomRecord({ seed, jobs: 24, cylinders: 60, move: 'path' }).record

const largest = (ledger: Ledger) =>
  ledger
    .components()
    .reduce((most, one) => (one.problem.totals.length > most.problem.totals.length ? one : most))

const causesOf = ({ problem }: ReturnType<typeof largest>) =>
  Array.from(problem.values, (_, i) => readingSignature(problem, i))

describe('clean records', () => {
  const blocks = Array.from({ length: COMPANIES }, (_, i) =>
    openLedger(recordOf(`clean ${i}`))
      .components()
      .flatMap((one) => one.solution.blocks),
  )

  test('raise a false alarm over all components of a company in one of twenty or fewer', () => {
    const alarms = blocks.filter((parts) => globalTests(parts).some((one) => one.isRejected))
    // 3 expected of 60 at 0.05; 9 or more happen less than once in four hundred tries.
    expect(alarms.length).toBeLessThan(9)
  })

  test('have statistics with the spread of chi-square (Kolmogorov and Smirnov)', () => {
    const pValues = blocks
      .flatMap((parts) => globalTests(parts).map((one) => one.pValue))
      .sort((a, b) => a - b)
    const n = pValues.length
    expect(n).toBeGreaterThan(100)
    const distance = pValues.reduce(
      (most, p, i) => Math.max(most, Math.abs(p - i / n), Math.abs(p - (i + 1) / n)),
      0,
    )
    // Critical distance at p = 0.001: 1.95 / √n.
    expect(distance).toBeLessThan(1.95 / Math.sqrt(n))
  })
})

test('a reading six of its deviations off stands in the best set nearly always', () => {
  const misses: string[] = []
  for (let i = 0; i < 100; i += 1) {
    const record = recordOf(`biased ${i}`)
    const clean = largest(openLedger(record))
    const seen = causesOf(clean).flatMap((cause, reading) => {
      const likelihood = likelihoodOf(clean.solution.system, cause)
      return likelihood ? [{ reading, sd: Math.sqrt(likelihood.sizeVariance) }] : []
    })
    const chosen = seen[(i * 7) % seen.length]!
    const place = clean.readings[chosen.reading] as number
    record.contentsKg[place] = (record.contentsKg[place] ?? 0) + 6 * chosen.sd
    const off = largest(openLedger(record))
    const ratios = causesOf(off).map((cause) => likelihoodOf(off.solution.system, cause))
    const [best] = equivalenceSets(ratios.map((one) => one?.statistic ?? null))
    if (!best?.includes(chosen.reading)) misses.push(`record ${i}, reading ${chosen.reading}`)
  }
  expect(misses.length).toBeLessThanOrEqual(5)
})

test('what is taken explains the rest, and sizes found together come near those planted', () => {
  const { record } = randomRecord({ seed: 'two faults', jobs: 30, cylinders: 150, move: 'near' })
  const component = largest(openLedger(record))
  const { opens, closes } = component.problem
  const handOvers = Array.from(opens, (open, i) => ({
    reading: i,
    open,
    close: closes[i]!,
  })).filter(({ open, close }) => open >= 0 && close >= 0 && open !== close)
  const planted = [handOvers[0]!, handOvers.at(-1)!].map((one) => one.reading)
  for (const reading of planted) record.contentsKg[component.readings[reading] as number]! += 8
  const off = largest(openLedger(record))
  const found = compensateSerially(off.solution.system, causesOf(off))
  expect(found.isExplained).toBe(true)
  const named = found.taken.slice(0, 2).flatMap((one) => one.equivalents)
  expect(planted.filter((reading) => !named.includes(reading))).toEqual([])
  for (const size of found.sizes.slice(0, 2)) expect(Math.abs(size - 8)).toBeLessThan(2)
  for (const [i, after] of found.path.slice(1).entries())
    expect(after.statistic).toBeLessThan(found.path[i]?.statistic ?? 0)
})

test('every variance times s: statistics fall by s and the order of causes stays', () => {
  const record = recordOf('scaled')
  const scale = 4
  const wide = {
    ...record,
    variances: record.variances.map((one) => one * scale),
    totalVariances: record.totalVariances.map((one) => one * scale),
  }
  const ratiosOf = (ledger: Ledger) => {
    const component = largest(ledger)
    return causesOf(component).map(
      (cause) => likelihoodOf(component.solution.system, cause)?.statistic ?? null,
    )
  }
  const [narrow, scaled] = [ratiosOf(openLedger(record)), ratiosOf(openLedger(wide))]
  for (const [i, statistic] of narrow.entries())
    if (statistic !== null) expect(scaled[i]).toBeCloseTo(statistic / scale, 6)
})

const pValue = fc.double({ min: 0, max: 1, noNaN: true })

test('Benjamini and Hochberg reject all that Bonferroni rejects', () => {
  fc.assert(
    fc.property(fc.array(pValue, { minLength: 1, maxLength: 40 }), (pValues) => {
      const at = (control: 'bonferroni' | 'benjamini-hochberg') =>
        rejectionLevel(pValues, { falseAlarm: 0.05, control })
      expect(at('benjamini-hochberg')).toBeGreaterThanOrEqual(at('bonferroni'))
      expect(at('benjamini-hochberg')).toBeLessThanOrEqual(0.05)
    }),
  )
})

test('the floor never makes a reading stand out more', () => {
  const adjustment = fc.record({
    moved: fc.double({ min: -50, max: 50, noNaN: true }),
    movedVariance: fc.double({ min: 0, max: 10, noNaN: true }),
    readingVariance: fc.double({ min: 1e-6, max: 10, noNaN: true }),
  })
  fc.assert(
    fc.property(fc.array(adjustment, { minLength: 1, maxLength: 20 }), (adjustments) => {
      for (const [i, { z, flooredZ }] of readingTests(adjustments).tests.entries())
        if ((adjustments[i]?.movedVariance ?? 0) > 0)
          expect(Math.abs(flooredZ)).toBeLessThanOrEqual(Math.abs(z) + 1e-9)
    }),
  )
})

test.each([0, 1, Number.NaN])('a rate of false alarms of %d is an error', (falseAlarm) => {
  expect(() => rejectionLevel([0.5], { falseAlarm, control: 'bonferroni' })).toThrow(
    /OUT_OF_RANGE|NOT_FINITE/,
  )
  expect(() => readingTests([], falseAlarm)).toThrow(/OUT_OF_RANGE|NOT_FINITE/)
})
