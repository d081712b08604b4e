import { PURITY_PCT } from './cut-times'
import type { EstimateSettings } from './estimate-types'
import { FUEL_CODES, isFuelCode } from './gas-data'
import { judgementRefusals } from './judgements'
import { OXYGEN_FIT } from './oxygen-real-gas'
import type { Refusal } from './refusal'
import type { TipChart } from './tables/tip-chart'
import { chartRefusals } from './tip-chart-check'
import { chartHasFuel } from './tip-settings'

/** Every reason why nothing can be estimated with these settings, at once. */
export function settingsRefusals(settings: EstimateSettings, chart: TipChart): Refusal[] {
  return [
    ...fuelRefusals(settings, chart),
    ...scalarRefusals(settings),
    ...judgementRefusals(settings.judgements),
    ...chartRefusals(chart, 'tipChart'),
  ]
}

function fuelRefusals(settings: EstimateSettings, chart: TipChart): Refusal[] {
  const { fuel, ownFuelFlowM3PerS } = settings
  if (!isFuelCode(fuel))
    return [{ code: 'UNKNOWN_FUEL', field: 'fuel', value: fuel, limit: { allowed: FUEL_CODES } }]
  if (ownFuelFlowM3PerS || chartHasFuel(chart, fuel)) return []
  const allowed = FUEL_CODES.filter((code) => chartHasFuel(chart, code))
  return [
    {
      code: 'FUEL_NOT_IN_TABLE',
      field: 'fuel',
      value: fuel,
      limit: { allowed },
      instead: ['ownTipChart', 'ownFuelFlow'],
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

function scalarRefusals(input: EstimateSettings): Refusal[] {
  const { minTemperatureK: min, maxTemperatureK: max } = OXYGEN_FIT
  const purity = input.oxygenPurityPct
  const [lowFuel, highFuel] = input.ownFuelFlowM3PerS ?? []
  return [
    ...outside('torches', input.torches, { min: 1, max: 50, whole: true }),
    ...outside('lightUps', input.lightUps, { min: 0, max: 10_000, whole: true }),
    ...outside('travelSPerCut', input.travelSPerCut, { min: 0, max: 86_400, unit: 's' }),
    ...outside('idleFlameFraction', input.idleFlameFraction, { min: 0, max: 5 }),
    ...outside('operatingFactor', input.operatingFactor, { above: 0, max: 1 }),
    ...outside('ownFuelFlowM3PerS.0', lowFuel, { above: 0, max: 1, unit: 'm3/s' }),
    ...outside('ownFuelFlowM3PerS.1', highFuel, { min: lowFuel ?? 0, max: 1, unit: 'm3/s' }),
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
