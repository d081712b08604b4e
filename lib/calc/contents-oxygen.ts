import { assemble } from './contents-assemble'
import type { ContentsOutcome, CylinderReading, CylinderSize } from './contents-types'
import {
  OXYGEN_FIT,
  OXYGEN_FIT_ERROR,
  oxygenContentsKg,
  waterVolumeFromNominal,
} from './oxygen-real-gas'
import { type Refusal, refuse } from './refusal'
import type { Term } from './source'
import { rectangular } from './stats'
import { term } from './trace'
import { gaugeKpaFromPsig, STANDARD_PRESSURE_KPA } from './units'

type GaugeReading = Extract<CylinderReading, { kind: 'gauge' }>

/** Common practice, no source: a regulator's high-pressure gauge and its class. */
const FULL_SCALE_KPA = gaugeKpaFromPsig(4000)
const GAUGE_CLASS = 0.025
/** Common practice, no source: air for gas temperature, in shade. */
const TEMPERATURE_U_K = 3
/** Common practice, no source: a size's water volume against this cylinder's. */
const VOLUME_TOLERANCE = 0.01

const TOP_GAUGE_KPA = OXYGEN_FIT.maxPressureAbsKpa - STANDARD_PRESSURE_KPA

/**
 * Oxygen by gauge and temperature, as a real gas.
 *
 * @param reading gauge pressure (kPa) and temperature (K), with the gauge's class
 * @param size water volume, or nominal contents and rated pressure to find it from
 * @returns contents with the terms of their uncertainty, or refusals
 * @source `oxygenContentsKg`; sensitivities by central difference.
 */
export function oxygenContents(reading: GaugeReading, size: CylinderSize): ContentsOutcome {
  const waterVolumeL = waterVolumeOf(size)
  const refusals = check(reading, waterVolumeL)
  if (refusals.length > 0 || waterVolumeL === null) return refuse(refusals)
  const { gaugePressureKpa, temperatureK } = reading
  const gasKg = oxygenContentsKg({ gaugePressureKpa, temperatureK, waterVolumeL })
  return assemble(size, gasKg, terms(reading, waterVolumeL, gasKg), {
    formulaCode: 'oxygenByGauge',
    inputs: [
      { name: 'gaugePressureKpa', value: gaugePressureKpa, unit: 'kPa' },
      { name: 'temperatureK', value: temperatureK, unit: 'K' },
      { name: 'waterVolumeL', value: waterVolumeL, unit: 'L' },
    ],
    tableId: 'oxygen-real-gas-fit',
    provenance: 'read',
  })
}

/** Water volume of an oxygen size: as stated, else from nominal contents; null when neither is known. */
export function waterVolumeOf(size: CylinderSize): number | null {
  if (size.waterVolumeL !== undefined) return size.waterVolumeL > 0 ? size.waterVolumeL : null
  const rated = size.ratedGaugePressureKpa
  if (rated === undefined || !(rated > 0 && rated <= TOP_GAUGE_KPA)) return null
  return waterVolumeFromNominal({ nominalKg: size.nominalKg, ratedGaugePressureKpa: rated })
}

function check(reading: GaugeReading, waterVolumeL: number | null): Refusal[] {
  const { gaugePressureKpa, temperatureK } = reading
  const { minTemperatureK, maxTemperatureK } = OXYGEN_FIT
  const refusals: Refusal[] = []
  if (waterVolumeL === null)
    refusals.push({
      code: 'SIZE_INCOMPLETE',
      field: 'size.waterVolumeL',
      value: null,
      limit: { above: 0, unit: 'L' },
    })
  if (!(gaugePressureKpa >= 0 && gaugePressureKpa <= TOP_GAUGE_KPA)) {
    const limit = { min: 0, max: TOP_GAUGE_KPA, unit: 'kPa' }
    refusals.push({
      code: 'OUTSIDE_FIT',
      field: 'reading.gaugePressureKpa',
      value: gaugePressureKpa,
      limit,
    })
  }
  if (!(temperatureK >= minTemperatureK && temperatureK <= maxTemperatureK)) {
    const limit = { min: minTemperatureK, max: maxTemperatureK, unit: 'K' }
    refusals.push({
      code: 'OUTSIDE_FIT',
      field: 'reading.temperatureK',
      value: temperatureK,
      limit,
    })
  }
  return refusals
}

function terms(reading: GaugeReading, waterVolumeL: number, gasKg: number): Term[] {
  const fullScaleKpa = reading.gauge?.fullScaleKpa ?? FULL_SCALE_KPA
  const accuracy = reading.gauge?.accuracyFractionOfFullScale ?? GAUGE_CLASS
  const gaugeU = rectangular(fullScaleKpa * accuracy)
  const temperatureU = reading.temperatureStandardUncertaintyK ?? TEMPERATURE_U_K
  const slope = slopes(reading, waterVolumeL)
  const volumeU = rectangular(VOLUME_TOLERANCE * gasKg)
  const fitU = rectangular(OXYGEN_FIT_ERROR * gasKg)
  return [
    term('gauge', [gaugeU, 'kPa'], slope.kgPerKpa * gaugeU, 'common practice'),
    term('temperature', [temperatureU, 'K'], slope.kgPerK * temperatureU, 'common practice'),
    term('waterVolume', [VOLUME_TOLERANCE, '1'], volumeU, 'common practice'),
    term('realGasFit', [OXYGEN_FIT_ERROR, '1'], fitU, 'read'),
  ]
}

/** How contents answer to gauge and temperature, by differences that stay inside the fit. */
function slopes(reading: GaugeReading, waterVolumeL: number): { kgPerKpa: number; kgPerK: number } {
  const { gaugePressureKpa, temperatureK } = reading
  const gauge = within(gaugePressureKpa, 10, { min: 0, max: TOP_GAUGE_KPA })
  const bounds = { min: OXYGEN_FIT.minTemperatureK, max: OXYGEN_FIT.maxTemperatureK }
  const temperature = within(temperatureK, 0.5, bounds)
  const atGauge = (kpa: number) =>
    oxygenContentsKg({ gaugePressureKpa: kpa, temperatureK, waterVolumeL })
  const atTemperature = (kelvin: number) =>
    oxygenContentsKg({ gaugePressureKpa, temperatureK: kelvin, waterVolumeL })
  return {
    kgPerKpa: Math.abs(atGauge(gauge.high) - atGauge(gauge.low)) / (gauge.high - gauge.low),
    kgPerK:
      Math.abs(atTemperature(temperature.high) - atTemperature(temperature.low)) /
      (temperature.high - temperature.low),
  }
}

function within(value: number, step: number, { min, max }: { min: number; max: number }) {
  return { low: Math.max(min, value - step), high: Math.min(max, value + step) }
}
