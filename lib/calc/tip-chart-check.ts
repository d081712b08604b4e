import { between } from './chart-curves'
import { FUEL_CODES, type FuelCode, GASES } from './gas-data'
import { JUDGEMENTS } from './judgements'
import { oxygenFloorKg } from './oxygen-floor'
import type { Refusal } from './refusal'
import type { Range, TipChart, TipChartRow } from './tables/tip-chart'
import { gasM3FromKg, gaugeKpaFromPsig, UNITS } from './units'

const MOST_ROWS = 200
/** Thickest metal that a chart may speak of, in. */
const THICKEST_IN = 100

/**
 * Every reason why a chart can't be used, row by row.
 *
 * Rows rise in thickness; ranges are low then high and above nothing. Where hands and machines work in the
 * ranges, speed may not rise with thickness, nor oxygen fall: a chart that does has a slip of the pen in it.
 *
 * @param chart the shop's own or the built-in one
 * @param field that stands before `rows.3.speedInPerMin`
 * @returns refusals; empty when the chart may be used
 */
export function chartRefusals(chart: TipChart, field: string): Refusal[] {
  const { rows } = chart
  if (rows.length < 2 || rows.length > MOST_ROWS) {
    const limit = { min: 2, max: MOST_ROWS }
    return [{ code: 'OUT_OF_RANGE', field: `${field}.rows`, value: rows.length, limit }]
  }
  const wrong = rows.flatMap((row, i) => rowRefusals(row, rows[i - 1], `${field}.rows.${i}`))
  if (wrong.length > 0) return wrong
  return rows.flatMap((row, i) => orderRefusals(row, rows[i - 1], `${field}.rows.${i}`))
}

function rowRefusals(row: TipChartRow, before: TipChartRow | undefined, field: string): Refusal[] {
  const ranges: [string, Range | undefined | null][] = [
    ['speedInPerMin', row.speedInPerMin],
    ['cuttingOxygenFt3PerH', row.cuttingOxygenFt3PerH],
    ['orificeIn', row.orificeIn],
    ['oxygenPsig', row.oxygenPsig],
    ...FUEL_CODES.flatMap((fuel): [string, Range | undefined][] => [
      [`fuelFt3PerH.${fuel}`, row.fuelFt3PerH[fuel]],
      [`fuelPsig.${fuel}`, row.fuelPsig?.[fuel]],
    ]),
  ]
  const above = before?.thicknessIn ?? 0
  const isThicker = row.thicknessIn > above && row.thicknessIn <= THICKEST_IN
  const limit = { above, max: THICKEST_IN, unit: 'in' }
  return [
    ...(isThicker ? [] : [outOfRange(`${field}.thicknessIn`, row.thicknessIn, limit)]),
    ...ranges.flatMap(([name, range]) => (range ? rangeRefusals(range, `${field}.${name}`) : [])),
    ...pressureRefusals(row, field),
  ]
}

function rangeRefusals([low, high]: Range, field: string): Refusal[] {
  if (!(low > 0 && Number.isFinite(low))) return [outOfRange(`${field}.0`, low, { above: 0 })]
  if (high >= low && Number.isFinite(high)) return []
  return [outOfRange(`${field}.1`, high, { min: low })]
}

/** Acetylene is never used above 15 psig, whatever a chart says. */
function pressureRefusals(row: TipChartRow, field: string): Refusal[] {
  return FUEL_CODES.flatMap((fuel): Refusal[] => {
    const high = row.fuelPsig?.[fuel]?.[1]
    const maxKpa = GASES[fuel].maxUseGaugeKpa
    if (high === undefined || maxKpa === null || gaugeKpaFromPsig(high) <= maxKpa * (1 + 1e-9))
      return []
    return [outOfRange(`${field}.fuelPsig.${fuel}.1`, high, { max: 15, unit: 'psig' })]
  })
}

function outOfRange(field: string, value: number, limit: Refusal['limit']): Refusal {
  return { code: 'OUT_OF_RANGE', field, value: Number.isFinite(value) ? value : null, limit }
}

const PLACES = [JUDGEMENTS.handPlace.usual, JUDGEMENTS.machinePlace.usual]

function orderRefusals(
  row: TipChartRow,
  before: TipChartRow | undefined,
  field: string,
): Refusal[] {
  if (!before) return []
  const slower = PLACES.every(
    (place) =>
      between(row.speedInPerMin, 1 - place) <= between(before.speedInPerMin, 1 - place) * 1.000_001,
  )
  const richer = PLACES.every(
    (place) =>
      between(row.cuttingOxygenFt3PerH, place) >=
      between(before.cuttingOxygenFt3PerH, place) * 0.999_999,
  )
  const notMonotone = (name: string, [, high]: Range, limit: Refusal['limit']): Refusal => ({
    code: 'CHART_NOT_MONOTONE',
    field: `${field}.${name}`,
    value: high,
    limit,
  })
  return [
    ...(slower
      ? []
      : [notMonotone('speedInPerMin', row.speedInPerMin, { max: before.speedInPerMin[1] })]),
    ...(richer
      ? []
      : [
          notMonotone('cuttingOxygenFt3PerH', row.cuttingOxygenFt3PerH, {
            min: before.cuttingOxygenFt3PerH[1],
          }),
        ]),
  ]
}

export type ChartRowReport = {
  row: number
  thicknessIn: number
  /** Oxygen of the leanest, fastest corner of the row over what its kerf burns at least. */
  leanestOverFloor: number
  /** The same where a machine works, and where a hand does. */
  machineOverFloor: number
  handOverFloor: number
  isBelowFloor: boolean
  fuels: readonly FuelCode[]
}

/**
 * A chart row by row against the stoichiometric floor.
 *
 * @param chart without refusals of `chartRefusals`
 * @returns a line a row; `isBelowFloor` where the leanest corner promises less oxygen than the kerf burns
 * @source `oxygenFloorKg`: FeO, 60 % burnt, the narrow edge of usual kerfs
 */
export function chartReport(chart: TipChart): ChartRowReport[] {
  return chart.rows.map((row, index) => {
    const pathM = row.thicknessIn * UNITS.in.toBase
    const floorM3PerM = gasM3FromKg('oxygen', oxygenFloorKg({ lengthM: 1, pathM }))
    const overFloor = (oxygenFt3PerH: number, speedInPerMin: number) =>
      (oxygenFt3PerH * UNITS['ft3/h'].toBase) /
      (speedInPerMin * UNITS['in/min'].toBase) /
      floorM3PerM
    const at = (place: number) =>
      overFloor(between(row.cuttingOxygenFt3PerH, place), between(row.speedInPerMin, 1 - place))
    const leanestOverFloor = overFloor(row.cuttingOxygenFt3PerH[0], row.speedInPerMin[1])
    return {
      row: index,
      thicknessIn: row.thicknessIn,
      leanestOverFloor,
      machineOverFloor: at(JUDGEMENTS.machinePlace.usual),
      handOverFloor: at(JUDGEMENTS.handPlace.usual),
      isBelowFloor: leanestOverFloor < 1,
      fuels: FUEL_CODES.filter((fuel) => row.fuelFt3PerH[fuel] !== undefined),
    }
  })
}
