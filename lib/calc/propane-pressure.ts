import { numberRefusals, type Outcome } from './check-numbers'
import { interpolateMonotone } from './interpolate'
import { input, type Measured, measure } from './measured'
import { refuse } from './refusal'
import { rectangular } from './stats'
import { PROPANE_SATURATION, PROPANE_SATURATION_ID } from './tables/propane-saturation'
import { fahrenheitFromKelvin, kelvinFromFahrenheit, STANDARD_PRESSURE_KPA, UNITS } from './units'

const COLDEST_F = -44
const WARMEST_F = 130
export const PROPANE_PRESSURE_RANGE = {
  minTemperatureK: kelvinFromFahrenheit(COLDEST_F),
  maxTemperatureK: kelvinFromFahrenheit(WARMEST_F),
} as const

/** Common practice, no source: how well the liquid's temperature is known. */
const TEMPERATURE_U_K = 2
/** @source commercial propane about 122 to 125 psig at 70 °F against 110 pure: up to 11 % of absolute pressure. */
const COMMERCIAL_EXCESS = 0.11

/**
 * Absolute vapour pressure of pure propane.
 *
 * @param temperatureK scalar, −44 to 130 °F
 * @returns scalar, kPa absolute
 * @throws {CalcError} OUT_OF_RANGE: it does not extrapolate
 * @source `tables/propane-saturation`; between rows the logarithm of pressure over 1/T, monotone
 */
export function propaneSaturationAbsKpa(temperatureK: number): number {
  const points = [...PROPANE_SATURATION]
    .reverse()
    .map(([f, psia]) => [1 / kelvinFromFahrenheit(f), Math.log(psia)] as const)
  return Math.exp(interpolateMonotone(points, 1 / temperatureK)) * UNITS.psi.toBase
}

/**
 * Pressure that a propane cylinder shows, by the temperature of its liquid.
 *
 * @param input temperatureK −44 to 130 °F, with how well it is known (K)
 * @returns kPa gauge of pure propane; commercial grades run up to a tenth higher, which the interval holds
 * @remarks The gauge tells the temperature, not the contents: it stays until the last liquid is gone.
 * @source `propaneSaturationAbsKpa`
 */
export function propaneVapourPressure(known: {
  temperatureK: number
  temperatureStandardUncertaintyK?: number
}): Outcome<{ gaugePressureKpa: Measured }> {
  const { minTemperatureK: min, maxTemperatureK: max } = PROPANE_PRESSURE_RANGE
  const refusals = numberRefusals({
    temperatureK: [known.temperatureK, { min, max, unit: 'K' }],
    temperatureStandardUncertaintyK: [
      known.temperatureStandardUncertaintyK,
      { min: 0, max: 50, unit: 'K' },
    ],
  })
  if (refusals.length > 0) return refuse(refusals)
  const u = known.temperatureStandardUncertaintyK ?? TEMPERATURE_U_K
  const gaugePressureKpa = measure({
    formulaCode: 'propaneVapourPressure',
    unit: 'kPa',
    tableId: PROPANE_SATURATION_ID,
    inputs: {
      temperatureK: input(known.temperatureK, 'K', { u, provenance: 'read', min, max }),
      composition: input(1, '1', { u: rectangular(COMMERCIAL_EXCESS), provenance: 'read' }),
    },
    of: (at) => propaneSaturationAbsKpa(at.temperatureK) * at.composition - STANDARD_PRESSURE_KPA,
  })
  return { ok: true, gaugePressureKpa }
}

/** Temperature in °F, held inside the table: for a liquid that cools below it. */
export function heldPropaneTemperatureK(temperatureK: number): number {
  const f = fahrenheitFromKelvin(temperatureK)
  return f < COLDEST_F ? PROPANE_PRESSURE_RANGE.minTemperatureK : temperatureK
}
