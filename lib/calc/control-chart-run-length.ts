import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import { CalcError, requireNumber } from './errors'

/** Points of Gauss and Legendre on an interval; 80 give eight digits or more for every chart here. */
const NODES = 80

const density = (x: number) => Math.exp(-0.5 * x * x) / Math.sqrt(2 * Math.PI)
const cdf = (x: number) => normalCdf(x, 0, 1)

type Rule = { points: number[]; weights: number[] }

/** Gauss–Legendre rule on an interval. @source roots by Newton's method (from memory) */
function gaussLegendre(low: number, high: number): Rule {
  const points: number[] = []
  const weights: number[] = []
  for (let i = 1; i <= NODES; i += 1) {
    let x = Math.cos((Math.PI * (i - 0.25)) / (NODES + 0.5))
    let slope = 1
    for (let round = 0; round < 50; round += 1) {
      let [value, before] = [1, 0]
      for (let n = 1; n <= NODES; n += 1)
        [value, before] = [((2 * n - 1) * x * value - (n - 1) * before) / n, value]
      slope = (NODES * (x * value - before)) / (x * x - 1)
      const step = value / slope
      x -= step
      if (Math.abs(step) < 1e-15) break
    }
    points.push(low + ((high - low) * (1 - x)) / 2)
    weights.push((high - low) / ((1 - x * x) * slope * slope))
  }
  return { points, weights }
}

/** Solves a small full system by elimination with the largest pivot. */
function solveFull(rows: number[][], right: number[]): number[] {
  const a = rows.map((row, i) => [...row, right[i] as number])
  const n = a.length
  for (let c = 0; c < n; c += 1) {
    let best = c
    for (let r = c + 1; r < n; r += 1)
      if (Math.abs(a[r]?.[c] as number) > Math.abs(a[best]?.[c] as number)) best = r
    const [top, other] = [a[best] as number[], a[c] as number[]]
    a[c] = top
    a[best] = other
    for (let r = c + 1; r < n; r += 1) {
      const row = a[r] as number[]
      const share = (row[c] as number) / (top[c] as number)
      for (let k = c; k <= n; k += 1) row[k] = (row[k] as number) - share * (top[k] as number)
    }
  }
  const x = new Array<number>(n).fill(0)
  for (let r = n - 1; r >= 0; r -= 1) {
    const row = a[r] as number[]
    let sum = row[n] as number
    for (let k = r + 1; k < n; k += 1) sum -= (row[k] as number) * (x[k] as number)
    x[r] = sum / (row[r] as number)
  }
  return x
}

/**
 * Mean number of values until a one-sided cumulative sum is out.
 *
 * @param input k and h above nought; shift of the values in standard deviations; start of the sum, 0 to h
 * @returns mean run length
 * @throws {CalcError} OUT_OF_RANGE
 * @source Page's integral equation L(u) = 1 + L(0) Φ(k − u − μ) + ∫ L(x) φ(x + k − u − μ) dx, by Gauss–Legendre
 * @example cusumRunLength({ k: 0.5, h: 4, shift: 0 }) // 335.37
 */
export function cusumRunLength(input: {
  k: number
  h: number
  shift: number
  start?: number
}): number {
  const { k, h, shift, start = 0 } = input
  requireNumber('k', k, { above: 0 })
  requireNumber('h', h, { above: 0 })
  requireNumber('shift', shift)
  requireNumber('start', start, { min: 0, max: h })
  const { points, weights } = gaussLegendre(0, h)
  // Unknowns: the run length from nought, then from each point.
  const from = [0, ...points]
  const kernel = (u: number) => [
    cdf(k - u - shift),
    ...points.map((x, j) => (weights[j] as number) * density(x + k - u - shift)),
  ]
  const rows = from.map((u, i) => kernel(u).map((value, j) => Number(i === j) - value))
  const lengths = solveFull(
    rows,
    from.map(() => 1),
  )
  return 1 + kernel(start).reduce((sum, value, j) => sum + value * (lengths[j] as number), 0)
}

/**
 * Mean run length of two cumulative sums, one up and one down.
 *
 * @source Lucas & Crosier 1982: both sides from one-sided lengths with and without the head start
 */
export function twoSidedCusumRunLength(input: {
  k: number
  h: number
  shift: number
  start?: number
}): number {
  const start = input.start ?? 0
  const up = (at: number) => cusumRunLength({ ...input, start: at })
  const down = (at: number) => cusumRunLength({ ...input, shift: -input.shift, start: at })
  const [up0, down0] = [up(0), down(0)]
  return (up(start) * down0 + down(start) * up0 - up0 * down0) / (up0 + down0)
}

/**
 * Mean run length of a moving average with fixed limits, both sides, from the target.
 *
 * @param input λ in (0, 1], width L > 0 in standard deviations of the settled average, shift of the values
 * @source Crowder 1987: L(u) = 1 + 1/λ ∫ L(x) φ((x − (1 − λ) u)/λ − μ) dx, by Gauss–Legendre
 */
export function ewmaRunLength(input: { lambda: number; width: number; shift: number }): number {
  const { lambda, width, shift } = input
  requireNumber('lambda', lambda, { above: 0, max: 1 })
  requireNumber('width', width, { above: 0 })
  requireNumber('shift', shift)
  const h = width * Math.sqrt(lambda / (2 - lambda))
  const { points, weights } = gaussLegendre(-h, h)
  const kernel = (u: number) =>
    points.map(
      (x, j) =>
        ((weights[j] as number) / lambda) * density((x - (1 - lambda) * u) / lambda - shift),
    )
  const lengths = solveFull(
    points.map((u, i) => kernel(u).map((value, j) => Number(i === j) - value)),
    points.map(() => 1),
  )
  return 1 + kernel(0).reduce((sum, value, j) => sum + value * (lengths[j] as number), 0)
}

/** Where a rising function reaches a value, by halving. */
function reaches(wanted: number, rising: (x: number) => number): number {
  let [low, high] = [0.01, 1]
  while (rising(high) < wanted) {
    low = high
    high *= 2
    if (high > 100) throw new CalcError('OUT_OF_RANGE', 'runLength', wanted)
  }
  while (high - low > 1e-6) {
    const middle = (low + high) / 2
    if (rising(middle) < wanted) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/**
 * Decision interval h whose one-sided chart runs so long while nothing is wrong.
 *
 * @param runLength mean number of values between false alarms, 10 to 1e6
 * @throws {CalcError} OUT_OF_RANGE
 * @example decisionInterval({ k: 0.5, runLength: 10_000 }) // 7.361
 */
export function decisionInterval({ k, runLength }: { k: number; runLength: number }): number {
  requireNumber('runLength', runLength, { min: 10, max: 1e6 })
  const log = Math.log(runLength)
  return reaches(log, (h) => Math.log(cusumRunLength({ k, h, shift: 0 })))
}

/** Width L of a moving average's limits for a mean run length in control, as `decisionInterval`. */
export function limitWidth({ lambda, runLength }: { lambda: number; runLength: number }): number {
  requireNumber('runLength', runLength, { min: 10, max: 1e6 })
  const log = Math.log(runLength)
  return reaches(log, (width) => Math.log(ewmaRunLength({ lambda, width, shift: 0 })))
}

/**
 * Decision interval for a whole fleet: so many charts may together give so many false alarms in a period.
 *
 * @param fleet charts watched and values each gets in a period (> 0), false alarms borne in a period (> 0)
 * @source false alarms per period = charts × values / mean run length
 */
export function fleetDecisionInterval(fleet: {
  k: number
  charts: number
  valuesPerPeriod: number
  falseAlarmsPerPeriod: number
}): number {
  const charts = requireNumber('charts', fleet.charts, { above: 0 })
  const values = requireNumber('valuesPerPeriod', fleet.valuesPerPeriod, { above: 0 })
  const borne = requireNumber('falseAlarmsPerPeriod', fleet.falseAlarmsPerPeriod, { above: 0 })
  return decisionInterval({ k: fleet.k, runLength: (charts * values) / borne })
}
