import { requireNumber } from './errors'
import { absKpaFromGaugeKpa, kelvinFromCelsius, STANDARD_PRESSURE_KPA } from './units'

/** Rise of the logarithm of absolute pressure per kelvin, mixture b of the printed three. */
export const ACETYLENE_LOG_SLOPE_PER_K = 0.021_04
/** Spread of the three printed mixtures, lowest to highest. */
export const ACETYLENE_LOG_SLOPE_SPREAD_PER_K = 0.021_04 - 0.018_38
const REFERENCE_TEMPERATURE_K = kelvinFromCelsius(21.1)

/** The temperatures of the measurements behind the slope, with room to the shop's range. */
export const ACETYLENE_GAUGE_RANGE = { minTemperatureK: 255, maxTemperatureK: 328 } as const

type AcetyleneGauge = {
  gaugePressureKpa: number
  temperatureK: number
  ratedGaugePressureKpa: number
}

/**
 * Share of a full cylinder's acetylene that its gauge suggests.
 *
 * Absolute pressure of gas over the solution rises in proportion to what is dissolved, and as
 * exp(0.02104 ΔT) with temperature. What stays dissolved at one atmosphere belongs to the tare.
 *
 * @param input gaugePressureKpa >= 0, temperatureK 255 to 328, ratedGaugePressureKpa > 0 (full, 70 °F)
 * @returns scalar, 0 when empty, 1 when full; may pass 1 for an over-read gauge
 * @throws {CalcError} OUT_OF_RANGE
 * @remarks Coarse: see the uncertainty in `contentsFromReading`. Weigh where it matters.
 * @source Berthelot and Vieille, three mixtures, quoted by Leeds and Butterfield ch. XI (Gutenberg 8144):
 *   grams of acetylene per gram of acetone over atmospheres 0.0340, 0.0306, 0.0323, so linear within 6 %.
 */
export function acetyleneShareFromGauge(input: AcetyleneGauge): number {
  requireNumber('gaugePressureKpa', input.gaugePressureKpa, { min: 0 })
  requireNumber('ratedGaugePressureKpa', input.ratedGaugePressureKpa, { above: 0 })
  requireNumber('temperatureK', input.temperatureK, {
    min: ACETYLENE_GAUGE_RANGE.minTemperatureK,
    max: ACETYLENE_GAUGE_RANGE.maxTemperatureK,
  })
  const rise = ACETYLENE_LOG_SLOPE_PER_K * (input.temperatureK - REFERENCE_TEMPERATURE_K)
  const pressureAt70FKpa = absKpaFromGaugeKpa(input.gaugePressureKpa) * Math.exp(-rise)
  return Math.max(0, (pressureAt70FKpa - STANDARD_PRESSURE_KPA) / input.ratedGaugePressureKpa)
}

/**
 * Gauge pressure of a full acetylene cylinder at a temperature.
 *
 * @param input ratedGaugePressureKpa (70 °F), temperatureK
 * @returns scalar, kPa gauge
 * @source As `acetyleneShareFromGauge`; trade figures 190 psig at 50 °F and 315 at 90 °F (from memory).
 */
export function acetyleneFullGaugeKpa(input: {
  ratedGaugePressureKpa: number
  temperatureK: number
}): number {
  const rise = ACETYLENE_LOG_SLOPE_PER_K * (input.temperatureK - REFERENCE_TEMPERATURE_K)
  return absKpaFromGaugeKpa(input.ratedGaugePressureKpa) * Math.exp(rise) - STANDARD_PRESSURE_KPA
}

/** How far the reference temperature is, K: the slope's uncertainty counts by this. */
export function acetyleneTemperatureDistanceK(temperatureK: number): number {
  return Math.abs(temperatureK - REFERENCE_TEMPERATURE_K)
}
