import { PREHEAT, preheatSeconds } from './cut-times'
import type { FuelCode } from './gas-data'
import { monotoneSlopes, type Point } from './interpolate'
import { KERF_LOW, narrowKerfMm } from './oxygen-floor'
import type { Range, TipChart, TipChartRow } from './tables/tip-chart'
import { UNITS } from './units'

/*
 * A chart as cubics: one row of coefficients between two thicknesses, so that a look-up is a search and a few
 * multiplications. The curves are those of `interpolateMonotone`; a test holds the two together. Preheat and
 * kerf go by thickness too, so their straight lines stand in the same rows, and their bends are knots as well.
 */

/** What a look-up fills in. Flows at 70 °F and 1 atm; the uncertainties are relative. */
export type Settings = {
  speedMPerS: number
  cuttingOxygenM3PerS: number
  fuelM3PerS: number
  /** High end of the fuel's range: what hose, cylinders and manifold must give. */
  richFuelM3PerS: number
  oxygenU: number
  fuelU: number
  timeU: number
  /** Preheat of a pierce, s, and the narrow edge of usual kerfs, mm: whatever the chart. */
  preheatS: number
  kerfMm: number
}

export type ChartCurves = {
  fuel: FuelCode
  minM: number
  maxM: number
  knotsM: Float64Array
  /** `STRIDE` numbers an interval: four cubics, then five straight lines. */
  coefficients: Float64Array
}

const CUBICS = 4
const LINES = 5
const CHART_LINES = 3
const STRIDE = 4 * CUBICS + 2 * LINES

export type CurveChoice = {
  chart: TipChart
  fuel: FuelCode
  /** 0: lean and fast, as machines cut; 1: rich and slow, as hands do. */
  place: number
  /** In place of the chart's column. */
  ownFuelFlowM3PerS?: readonly [low: number, high: number] | undefined
}

/** A place for a look-up to write into, used over and over. */
export function emptySettings(): Settings {
  return {
    speedMPerS: 0,
    cuttingOxygenM3PerS: 0,
    fuelM3PerS: 0,
    richFuelM3PerS: 0,
    oxygenU: 0,
    fuelU: 0,
    timeU: 0,
    preheatS: 0,
    kerfMm: 0,
  }
}

/**
 * Turns a chart into curves for one fuel and one place within its ranges.
 *
 * Within a row high flows go with low speeds (hand) and low flows with high speeds (machine), so one place sets
 * the whole row between its two ends, on a log scale. The printed range counts as a rectangle on that scale.
 *
 * @param choice chart with at least two rows that have the fuel (or the shop's own flow for it); place 0 to 1
 * @returns curves over the thicknesses of the chart
 * @throws {CalcError} OUT_OF_RANGE with fewer than two rows; WRONG_ORDER when thickness does not rise
 * @source the chart; `interpolateMonotone`
 */
export function chartCurves(choice: CurveChoice): ChartCurves {
  const rows = choice.chart.rows.map((row) => rowOf(row, choice))
  const chartKnots = rows.map((row) => row.thicknessM)
  const minM = chartKnots[0] ?? 0
  const maxM = chartKnots.at(-1) ?? 0
  const knots = withBends(chartKnots, minM, maxM)
  const byRow = new Float64Array(STRIDE * Math.max(0, rows.length - 1))
  for (let curve = 0; curve < CUBICS; curve += 1) {
    const points = rows.map((row): Point => [row.thicknessM, row.cubics[curve] ?? 0])
    fillCubic(byRow, curve, points)
  }
  for (let line = 0; line < CHART_LINES; line += 1) {
    const points = rows.map((row): Point => [row.thicknessM, row.lines[line] ?? 0])
    fillLine(byRow, line, points)
  }
  const coefficients = atKnots(byRow, chartKnots, knots)
  const preheat = knots.map((x): Point => [x, preheatSeconds(x, choice.fuel)])
  fillLine(coefficients, CHART_LINES, preheat)
  const kerf = knots.map((x): Point => [x, narrowKerfMm(x)])
  fillLine(coefficients, CHART_LINES + 1, kerf)
  return { fuel: choice.fuel, minM, maxM, knotsM: Float64Array.from(knots), coefficients }
}

/** The chart's thicknesses, and where preheat and kerf bend between them. */
function withBends(chartKnots: readonly number[], minM: number, maxM: number): number[] {
  const bends = [...PREHEAT.x, ...KERF_LOW.x].map((mm) => mm / 1000)
  const inside = bends.filter((x) => x > minM && x < maxM)
  return [...new Set([...chartKnots, ...inside])].sort((a, b) => a - b)
}

/** The rows' coefficients at knots that lie closer: the same curves, from another origin. */
function atKnots(
  byRow: Float64Array,
  chartKnots: readonly number[],
  knots: readonly number[],
): Float64Array {
  const moved = new Float64Array(STRIDE * Math.max(0, knots.length - 1))
  let row = 0
  for (let i = 0; i + 1 < knots.length; i += 1) {
    while (row + 2 < chartKnots.length && (chartKnots[row + 1] ?? 0) <= (knots[i] ?? 0)) row += 1
    const d = (knots[i] ?? 0) - (chartKnots[row] ?? 0)
    const c = byRow.subarray(row * STRIDE, (row + 1) * STRIDE)
    for (let at = 0; at < 4 * CUBICS; at += 4) {
      const [c0 = 0, c1 = 0, c2 = 0, c3 = 0] = c.subarray(at, at + 4)
      const to = i * STRIDE + at
      moved[to] = c0 + d * (c1 + d * (c2 + d * c3))
      moved[to + 1] = c1 + d * (2 * c2 + d * 3 * c3)
      moved[to + 2] = c2 + 3 * c3 * d
      moved[to + 3] = c3
    }
    for (let at = 4 * CUBICS; at < STRIDE; at += 2) {
      moved[i * STRIDE + at] = (c[at] ?? 0) + d * (c[at + 1] ?? 0)
      moved[i * STRIDE + at + 1] = c[at + 1] ?? 0
    }
  }
  return moved
}

function fillLine(coefficients: Float64Array, line: number, points: readonly Point[]): void {
  for (let i = 0; i + 1 < points.length; i += 1) {
    const [x0, y0] = points[i] ?? [0, 0]
    const [x1, y1] = points[i + 1] ?? [1, 0]
    const at = i * STRIDE + 4 * CUBICS + 2 * line
    coefficients[at] = y0
    coefficients[at + 1] = (y1 - y0) / (x1 - x0)
  }
}

function fillCubic(coefficients: Float64Array, curve: number, points: readonly Point[]): void {
  const slopes = monotoneSlopes(points)
  for (let i = 0; i + 1 < points.length; i += 1) {
    const [x0, y0] = points[i] ?? [0, 0]
    const [x1, y1] = points[i + 1] ?? [1, 0]
    const [d0, d1] = [slopes[i] ?? 0, slopes[i + 1] ?? 0]
    const width = x1 - x0
    const secant = (y1 - y0) / width
    const at = i * STRIDE + 4 * curve
    coefficients[at] = y0
    coefficients[at + 1] = d0
    coefficients[at + 2] = (3 * secant - 2 * d0 - d1) / width
    coefficients[at + 3] = (d0 + d1 - 2 * secant) / width ** 2
  }
}

/**
 * Speed, flows and their uncertainty, preheat and kerf at a path through the metal.
 *
 * @param curves of `chartCurves`; pathM inside them, or outside by no more than a last digit
 * @param into where the numbers are written
 */
export function lookUp(curves: ChartCurves, pathM: number, into: Settings): void {
  const { knotsM, coefficients: c, minM, maxM } = curves
  // Metres to inches and back may step over the chart's edge by a last digit; more was refused before.
  const x = Math.max(minM, Math.min(maxM, pathM))
  let low = 0
  let high = knotsM.length - 1
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if ((knotsM[middle] as number) <= x) low = middle
    else high = middle
  }
  const s = x - (knotsM[low] as number)
  const at = low * STRIDE
  into.speedMPerS = cubic(c, at, s)
  into.cuttingOxygenM3PerS = cubic(c, at + 4, s)
  into.fuelM3PerS = cubic(c, at + 8, s)
  into.richFuelM3PerS = cubic(c, at + 12, s)
  into.oxygenU = (c[at + 16] as number) + (c[at + 17] as number) * s
  into.fuelU = (c[at + 18] as number) + (c[at + 19] as number) * s
  into.timeU = (c[at + 20] as number) + (c[at + 21] as number) * s
  into.preheatS = (c[at + 22] as number) + (c[at + 23] as number) * s
  into.kerfMm = (c[at + 24] as number) + (c[at + 25] as number) * s
}

function cubic(c: Float64Array, at: number, s: number): number {
  return (
    (c[at] as number) +
    s * ((c[at + 1] as number) + s * ((c[at + 2] as number) + s * (c[at + 3] as number)))
  )
}

type CurveRow = { thicknessM: number; cubics: readonly number[]; lines: readonly number[] }

function rowOf(row: TipChartRow, { fuel, place, ownFuelFlowM3PerS }: CurveChoice): CurveRow {
  const flow = UNITS['ft3/h'].toBase
  const [lowFuel, highFuel] = row.fuelFt3PerH[fuel] ?? [0, 0]
  const fuelM3PerS: Range = ownFuelFlowM3PerS ?? [lowFuel * flow, highFuel * flow]
  const oxygen = row.cuttingOxygenFt3PerH
  const speed = row.speedInPerMin
  return {
    thicknessM: row.thicknessIn * UNITS.in.toBase,
    cubics: [
      between(speed, 1 - place) * UNITS['in/min'].toBase,
      between(oxygen, place) * flow,
      between(fuelM3PerS, place),
      fuelM3PerS[1],
    ],
    lines: [
      relativeU(widthOf(oxygen) + widthOf(speed)),
      relativeU(widthOf(fuelM3PerS) + widthOf(speed)),
      relativeU(widthOf(speed)),
    ],
  }
}

/** Point between low and high on a log scale: 0 is low, 1 is high. */
export function between([low, high]: Range, weight: number): number {
  return low ** (1 - weight) * high ** weight
}

const widthOf = ([low, high]: Range) => Math.log(high / low)

/** Relative standard deviation of a lognormal whose logarithm has the spread of a rectangle of this width. */
function relativeU(logWidth: number): number {
  return Math.sqrt(Math.expm1(logWidth ** 2 / 12))
}
