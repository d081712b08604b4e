import { chartCurves, emptySettings, lookUp } from './chart-curves'
import type { FuelCode } from './gas-data'
import { interpolateMonotone, type Point } from './interpolate'
import { JUDGEMENTS } from './judgements'
import type { Range, TipChart, TipChartRow } from './tables/tip-chart'
import { UNITS } from './units'

export type SettingRanges = {
  speedMPerS: [number, number]
  cuttingOxygenM3PerS: [number, number]
  fuelM3PerS: [number, number]
  orificeM: [number, number] | null
}

export type TipSettings = {
  speedMPerS: number
  cuttingOxygenM3PerS: number
  fuelM3PerS: number
  orificeM: number | null
  ranges: SettingRanges
  /** Relative standard deviation of gas per length, and of time per length. */
  relativeU: { oxygen: number; fuel: number; time: number }
}

type Process = 'hand' | 'machine'

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
 * @param input chart, fuel that it has, path through the metal inside the chart (m), process
 * @returns settings, the printed ranges at that thickness, and how uncertain gas per length is
 * @throws {CalcError} OUT_OF_RANGE outside the chart: it does not extrapolate
 * @source the chart; place within the range is judgement (`JUDGEMENTS`)
 */
export function tipSettings(input: {
  chart: TipChart
  fuel: FuelCode
  pathM: number
  process: Process
}): TipSettings {
  const { chart, fuel, pathM, process } = input
  const place = JUDGEMENTS[process === 'hand' ? 'handPlace' : 'machinePlace'].usual
  const ranges = settingRanges({ chart, fuel, pathM })
  const settings = emptySettings()
  lookUp(chartCurves({ chart, fuel, place }), pathM, settings)
  return {
    speedMPerS: settings.speedMPerS,
    cuttingOxygenM3PerS: settings.cuttingOxygenM3PerS,
    fuelM3PerS: settings.fuelM3PerS,
    orificeM: orificeAt({ chart, pathM, place }),
    ranges,
    relativeU: { oxygen: settings.oxygenU, fuel: settings.fuelU, time: settings.timeU },
  }
}

/** The printed ranges at a thickness inside the chart. */
export function settingRanges(input: {
  chart: TipChart
  fuel: FuelCode
  pathM: number
  ownFuelFlowM3PerS?: readonly [low: number, high: number] | undefined
}): SettingRanges {
  const { chart, fuel, pathM, ownFuelFlowM3PerS } = input
  const rangeAt = (
    pick: (row: TipChartRow) => Range,
    unit: 'in/min' | 'ft3/h' | 'in',
  ): [number, number] => {
    const factor = UNITS[unit].toBase
    const at = (end: 0 | 1) => valueAt(chart, pathM, (row) => pick(row)[end]) * factor
    return [at(0), at(1)]
  }
  return {
    speedMPerS: rangeAt((row) => row.speedInPerMin, 'in/min'),
    cuttingOxygenM3PerS: rangeAt((row) => row.cuttingOxygenFt3PerH, 'ft3/h'),
    fuelM3PerS: ownFuelFlowM3PerS
      ? [...ownFuelFlowM3PerS]
      : rangeAt((row) => row.fuelFt3PerH[fuel] ?? [0, 0], 'ft3/h'),
    orificeM: hasOrifices(chart) ? rangeAt((row) => row.orificeIn ?? [0, 0], 'in') : null,
  }
}

/** Orifice at a thickness and a place within its range; null when the chart has none. */
export function orificeAt(input: { chart: TipChart; pathM: number; place: number }): number | null {
  const { chart, pathM, place } = input
  if (!hasOrifices(chart)) return null
  const orificeIn = valueAt(chart, pathM, (row) => {
    const [low, high] = row.orificeIn ?? [1, 1]
    return low ** (1 - place) * high ** place
  })
  return orificeIn * UNITS.in.toBase
}

function hasOrifices(chart: TipChart): boolean {
  return chart.rows.every((row) => row.orificeIn !== null)
}

function valueAt(chart: TipChart, pathM: number, pick: (row: TipChartRow) => number): number {
  const thicknessIn = clampToChart(chart, pathM / UNITS.in.toBase)
  const points = rowsAround(chart, thicknessIn).map((row): Point => [row.thicknessIn, pick(row)])
  return interpolateMonotone(points, thicknessIn)
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
