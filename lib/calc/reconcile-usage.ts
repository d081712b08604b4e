import type { Component, Ledger } from './reconcile-ledger'
import type { Interval90 } from './source'
import { normalInterval } from './stats'

export type JobUsage = {
  /** First readings less last ones, kg, as they came: what a crew's factor is learned from. */
  fromReadings: Interval90
  /** After every balance that the job's cylinders touch, kg. */
  reconciled: Interval90
  /** Readings of the job that were tied because contents can not rise nor be negative. */
  boundReadings: number
  /** A person should look: contents kept rising. */
  isUnsettled: boolean
}

type Weighted = { component: Component; weights: Map<number, number> }

/**
 * What a job used: from its readings alone, and after all balances.
 *
 * @param ledger a solved record
 * @param job place of the job in it
 * @returns both with standard uncertainties, shared errors of gauges counted; nought and nought without readings
 * @remarks The uncertainty after is that of the balances without the bounds, the wider one.
 * @source linear combination of the reconciled readings with their covariance (GUM 5.2.2)
 */
export function jobUsage(ledger: Ledger, job: number): JobUsage {
  const sums = { raw: 0, rawVariance: 0, value: 0, variance: 0, bound: 0, isUnsettled: false }
  for (const { component, weights } of weightsOf(ledger, job)) {
    const { problem, solution } = component
    const combination = [...weights].map(([reading, weight]) => ({ reading, weight }))
    const { before, after } = solution.varianceOf(combination)
    for (const { reading, weight } of combination) {
      sums.raw += weight * (problem.values[reading] as number)
      sums.value += weight * (solution.values[reading] as number)
      sums.bound += solution.isBound[reading] as number
    }
    sums.rawVariance += before
    sums.variance += after
    sums.isUnsettled ||= solution.isUnsettled
  }
  const interval = (mean: number, variance: number) =>
    normalInterval({ mean, standardUncertainty: Math.sqrt(variance), min: 0 })
  return {
    fromReadings: interval(sums.raw, sums.rawVariance),
    reconciled: interval(sums.value, sums.variance),
    boundReadings: sums.bound,
    isUnsettled: sums.isUnsettled,
  }
}

/** +1 for each reading that begins an interval of the job, −1 for each that ends one; between, they cancel. */
function weightsOf(ledger: Ledger, job: number): Weighted[] {
  const found = new Map<Component, Map<number, number>>()
  for (const { from, to } of ledger.intervalsOf(job)) {
    const component = ledger.componentOfReading(to)
    if (!component) continue
    const weights = found.get(component) ?? new Map<number, number>()
    found.set(component, weights)
    for (const [reading, weight] of [
      [from, 1],
      [to, -1],
    ] as const) {
      const place = placeOf(component.readings, reading)
      weights.set(place, (weights.get(place) ?? 0) + weight)
    }
  }
  return [...found].map(([component, weights]) => ({
    component,
    weights: new Map([...weights].filter(([, weight]) => weight !== 0)),
  }))
}

/** Place of a number in a rising list that holds it. */
export function placeOf(sorted: Int32Array, wanted: number): number {
  let [low, high] = [0, sorted.length - 1]
  while (low < high) {
    const middle = (low + high) >> 1
    if ((sorted[middle] as number) < wanted) low = middle + 1
    else high = middle
  }
  return low
}
