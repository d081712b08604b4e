import type { FuelCode } from './gas-data'
import { interpolateMonotone, type Point } from './interpolate'
import { PROCESS_WEIGHT } from './judgements'
import type { Range, TipChart, TipChartRow } from './tables/tip-chart'
import { UNITS } from './units'

export type TipSettings = {
  speedMPerS: number
  cuttingOxygenM3PerS: number
  fuelM3PerS: number
  orificeM: number | null
  ranges: {
    speedMPerS: [number, number]
    cuttingOxygenM3PerS: [number, number]
    fuelM3PerS: [number, number]
    orificeM: [number, number] | null
  }
  /** Standard deviation of the logarithm of gas per length, the printed range taken as rectangular. */
  logUncertainty: { oxygen: number; fuel: number }
}

type Process = keyof typeof PROCESS_WEIGHT

/** Thicknesses that a chart covers, in metres. */
export function chartRangeM(chart: TipChart): { min: number; max: number } {
  const thicknesses = chart.rows.map((row) => row.thicknessIn * UNITS.in.toBase)
  return { min: Math.min(...thicknesses), max: Math.max(...thicknesses) }
}

/** True when every row of the chart has this fuel. */
export function chartHasFuel(chart: TipChart, fuel: FuelCode): boolean {
  return chart.rows.length >= 2 && chart.rows.every((row) => row.fuelFt3PerH[fuel] !== undefined)
}

/**
 * Speed, flows and orifice at a thickness, by monotone interpolation in a chart.
 *
 * Within a row high flows go with low speeds (hand) and low flows with high speeds (machine), so one
 * weight places the whole setting between the two ends, on a log scale.
 *
 * @param input chart, fuel that it has, path through the metal inside the chart (m), process
 * @returns settings, the printed ranges at that thickness, and how uncertain gas per length is
 * @throws {CalcError} OUT_OF_RANGE outside the chart: it does not extrapolate
 * @source the chart; place within the range is judgement (`PROCESS_WEIGHT`)
 */
export function tipSettings(input: {
  chart: TipChart
  fuel: FuelCode
  pathM: number
  process: Process
}): TipSettings {
  const { chart, fuel, process } = input
  const weight = PROCESS_WEIGHT[process]
  const thicknessIn = clampToChart(chart, input.pathM / UNITS.in.toBase)
  const rows = rowsAround(chart, thicknessIn)
  const at = (pick: (row: TipChartRow) => number) =>
    interpolateMonotone(
      rows.map((row): Point => [row.thicknessIn, pick(row)]),
      thicknessIn,
    )
  const rangeAt = (
    pick: (row: TipChartRow) => Range,
    unit: 'in/min' | 'ft3/h' | 'in',
  ): [number, number] => {
    const factor = UNITS[unit].toBase
    return [at((row) => pick(row)[0]) * factor, at((row) => pick(row)[1]) * factor]
  }
  const fuelOf = (row: TipChartRow): Range => row.fuelFt3PerH[fuel] ?? [0, 0]
  const oxygenOf = (row: TipChartRow) => row.cuttingOxygenFt3PerH
  const speedOf = (row: TipChartRow) => row.speedInPerMin
  const hasOrifice = chart.rows.every((row) => row.orificeIn !== null)
  const orificeOf = (row: TipChartRow): Range => row.orificeIn ?? [0, 0]
  return {
    speedMPerS: at((row) => between(speedOf(row), 1 - weight)) * UNITS['in/min'].toBase,
    cuttingOxygenM3PerS: at((row) => between(oxygenOf(row), weight)) * UNITS['ft3/h'].toBase,
    fuelM3PerS: at((row) => between(fuelOf(row), weight)) * UNITS['ft3/h'].toBase,
    orificeM: hasOrifice ? at((row) => between(orificeOf(row), weight)) * UNITS.in.toBase : null,
    ranges: {
      speedMPerS: rangeAt(speedOf, 'in/min'),
      cuttingOxygenM3PerS: rangeAt(oxygenOf, 'ft3/h'),
      fuelM3PerS: rangeAt(fuelOf, 'ft3/h'),
      orificeM: hasOrifice ? rangeAt(orificeOf, 'in') : null,
    },
    logUncertainty: {
      oxygen: at((row) => logSpread(oxygenOf(row), speedOf(row))),
      fuel: at((row) => logSpread(fuelOf(row), speedOf(row))),
    },
  }
}

/** The curve between two rows depends on them and on one more to each side: the rest can be left out. */
function rowsAround(chart: TipChart, thicknessIn: number): readonly TipChartRow[] {
  const above = chart.rows.findIndex((row) => row.thicknessIn >= thicknessIn)
  const right = above < 0 ? chart.rows.length - 1 : Math.max(1, above)
  return chart.rows.slice(Math.max(0, right - 2), right + 2)
}

function clampToChart(chart: TipChart, thicknessIn: number): number {
  // Metres to inches and back may step over the chart's edge by a last digit; anything more is a refusal.
  const last = chart.rows.at(-1)?.thicknessIn ?? thicknessIn
  const first = chart.rows[0]?.thicknessIn ?? thicknessIn
  if (thicknessIn > last && thicknessIn < last * (1 + 1e-9)) return last
  if (thicknessIn < first && thicknessIn > first * (1 - 1e-9)) return first
  return thicknessIn
}

/** Point between low and high on a log scale: 0 is low, 1 is high. */
function between([low, high]: Range, weight: number): number {
  return low ** (1 - weight) * high ** weight
}

/** Rich and slow over lean and fast, as the width of a rectangle on a log scale. */
function logSpread(flow: Range, speed: Range): number {
  const width = Math.log((flow[1] / speed[0]) * (speed[1] / flow[0]))
  return width / Math.sqrt(12)
}
