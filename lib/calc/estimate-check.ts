import { MAX_BEVEL_DEG, sectionOf, shapeRefusals } from './cut-geometry'
import type { CutInput, EstimateInput } from './estimate-types'
import { FUEL_CODES, isFuelCode } from './gas-data'
import { materialRefusal } from './materials'
import { OXYGEN_FIT } from './oxygen-real-gas'
import type { Refusal } from './refusal'
import type { Range, TipChart } from './tables/tip-chart'
import { chartHasFuel, chartRangeM } from './tip-settings'

export const PURITY_PCT = { min: 98.5, normal: 99.5, max: 100 } as const

/** Path through the metal of a bevelled cut: t / cos. @source geometry. */
export function bevelPathM(cut: { thicknessM: number; bevelDeg: number }): number {
  return cut.thicknessM / Math.cos((cut.bevelDeg * Math.PI) / 180)
}

/** Every reason why a cut list can't be estimated, at once. */
export function estimateRefusals(input: EstimateInput, chart: TipChart): Refusal[] {
  const refusals = [
    ...fuelRefusals(input.fuel, chart),
    ...scalarRefusals(input),
    ...chartRefusals(chart),
  ]
  if (input.cuts.length === 0)
    refusals.push({ code: 'NO_CUTS', field: 'cuts', value: 0, limit: { min: 1 } })
  return [
    ...refusals,
    ...input.cuts.flatMap((cut, index) => cutRefusals(cut, `cuts.${index}`, chart)),
  ]
}

function fuelRefusals(fuel: string, chart: TipChart): Refusal[] {
  if (!isFuelCode(fuel))
    return [{ code: 'UNKNOWN_FUEL', field: 'fuel', value: fuel, limit: { allowed: FUEL_CODES } }]
  if (chartHasFuel(chart, fuel)) return []
  const allowed = FUEL_CODES.filter((code) => chartHasFuel(chart, code))
  return [
    {
      code: 'FUEL_NOT_IN_TABLE',
      field: 'fuel',
      value: fuel,
      limit: { allowed },
      instead: ['ownTipChart'],
    },
  ]
}

type Bounds = { min?: number; max?: number; above?: number; unit?: string; whole?: boolean }

function outside(field: string, value: number | undefined, bounds: Bounds): Refusal[] {
  if (value === undefined) return []
  const { min = -Infinity, max = Infinity, above = -Infinity } = bounds
  const inside = value >= min && value <= max && value > above && Number.isFinite(value)
  if (inside && !(bounds.whole && !Number.isInteger(value))) return []
  const { whole: _whole, ...limit } = bounds
  return [{ code: 'OUT_OF_RANGE', field, value, limit }]
}

function scalarRefusals(input: EstimateInput): Refusal[] {
  const { minTemperatureK: min, maxTemperatureK: max } = OXYGEN_FIT
  const purity = input.oxygenPurityPct
  return [
    ...outside('torches', input.torches, { min: 1, max: 50, whole: true }),
    ...outside('lightUps', input.lightUps, { min: 0, max: 10_000, whole: true }),
    ...outside('idleFlameFraction', input.idleFlameFraction, { min: 0, max: 5 }),
    ...outside('operatingFactor', input.operatingFactor, { above: 0, max: 1 }),
    ...outside('airTemperatureK', input.airTemperatureK, { min, max, unit: 'K' }),
    ...outside('crewFactor.mean', input.crewFactor?.mean, { above: 0, max: 10 }),
    ...outside('crewFactor.standardUncertainty', input.crewFactor?.standardUncertainty, {
      min: 0,
      max: 10,
    }),
    ...outside('onHand.oxygenKg', input.onHand?.oxygenKg, { min: 0, unit: 'kg' }),
    ...outside('onHand.fuelKg', input.onHand?.fuelKg, { min: 0, unit: 'kg' }),
    ...outside('prices.oxygenCylinderMinor', input.prices?.oxygenCylinderMinor, { min: 0 }),
    ...outside('prices.fuelCylinderMinor', input.prices?.fuelCylinderMinor, { min: 0 }),
    ...outside('prices.crewHourMinor', input.prices?.crewHourMinor, { min: 0 }),
    ...outside('oxygenPurityPct', purity, {
      min: PURITY_PCT.min,
      max: PURITY_PCT.max,
      unit: '%',
    }).map((refusal): Refusal => ({ ...refusal, code: 'PURITY_TOO_LOW' })),
  ]
}

function chartRefusals(chart: TipChart): Refusal[] {
  if (chart.rows.length < 2)
    return [
      { code: 'OUT_OF_RANGE', field: 'tipChart.rows', value: chart.rows.length, limit: { min: 2 } },
    ]
  return chart.rows.flatMap((row, i) => {
    const field = `tipChart.rows.${i}`
    const before = chart.rows[i - 1]?.thicknessIn ?? 0
    const ranges: [string, Range][] = [
      ['speedInPerMin', row.speedInPerMin],
      ['cuttingOxygenFt3PerH', row.cuttingOxygenFt3PerH],
      ...Object.entries(row.fuelFt3PerH).map(([fuel, range]): [string, Range] => [
        `fuelFt3PerH.${fuel}`,
        range,
      ]),
      ...(row.orificeIn ? [['orificeIn', row.orificeIn] as [string, Range]] : []),
    ]
    return [
      ...outside(`${field}.thicknessIn`, row.thicknessIn, { above: before, unit: 'in' }),
      ...ranges.flatMap(([name, [low, high]]) => [
        ...outside(`${field}.${name}.0`, low, { above: 0 }),
        ...outside(`${field}.${name}.1`, high, { min: low }),
      ]),
    ]
  })
}

function cutRefusals(cut: CutInput, field: string, chart: TipChart): Refusal[] {
  const material = materialRefusal({
    material: cut.material,
    field: `${field}.material`,
    chartMaterials: chart.materials,
  })
  const piece =
    cut.piece && 'areaM2' in cut.piece
      ? (['areaM2', cut.piece.areaM2] as const)
      : cut.piece && (['lengthM', cut.piece.lengthM] as const)
  const refusals: Refusal[] = [
    ...(material ? [material] : []),
    ...outside(`${field}.count`, cut.count, { min: 1, max: 100_000, whole: true }),
    ...outside(`${field}.doneCount`, cut.doneCount, { min: 0, max: cut.count, whole: true }),
    ...outside(`${field}.bevelDeg`, cut.bevelDeg, { min: 0, max: MAX_BEVEL_DEG, unit: 'deg' }),
    ...(piece ? outside(`${field}.piece.${piece[0]}`, piece[1], { above: 0 }) : []),
    ...shapeRefusals(cut.shape, `${field}.shape`),
  ]
  return refusals.length > 0 ? refusals : thicknessRefusals(cut, field, chart)
}

function thicknessRefusals(cut: CutInput, field: string, chart: TipChart): Refusal[] {
  const { min, max } = chartRangeM(chart)
  const section = sectionOf(cut.shape)
  return section.segments
    .map((segment) => bevelPathM({ thicknessM: segment.thicknessM, bevelDeg: cut.bevelDeg ?? 0 }))
    .filter((pathM) => pathM < min * (1 - 1e-9) || pathM > max * (1 + 1e-9))
    .map((pathM) => ({
      code: 'OUTSIDE_TABLE',
      field: `${field}.shape.${section.thicknessField}`,
      value: pathM,
      limit: { min, max, unit: 'm' },
    }))
}
