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
  const { gaugePressureKpa, temperatureK } = reading
  const fullScaleKpa = reading.gauge?.fullScaleKpa ?? FULL_SCALE_KPA
  const gaugeU = rectangular(
    fullScaleKpa * (reading.gauge?.accuracyFractionOfFullScale ?? GAUGE_CLASS),
  )
  const temperatureU = reading.temperatureStandardUncertaintyK ?? TEMPERATURE_U_K
  const at = (change: { gauge?: number; temperature?: number }) =>
    oxygenContentsKg({
      gaugePressureKpa: clamp(gaugePressureKpa + (change.gauge ?? 0), 0, TOP_GAUGE_KPA),
      temperatureK: clamp(
        temperatureK + (change.temperature ?? 0),
        OXYGEN_FIT.minTemperatureK,
        OXYGEN_FIT.maxTemperatureK,
      ),
      waterVolumeL,
    })
  // A small step keeps both ends inside the fit; at an edge the one-sided slope is as good.
  const slope = (
    key: 'gauge' | 'temperature',
    step: number,
    here: number,
    top: number,
    bottom: number,
  ) => {
    const width = Math.min(here + step, top) - Math.max(here - step, bottom)
    return (at({ [key]: step }) - at({ [key]: -step })) / width
  }
  const perKpa = slope('gauge', 10, gaugePressureKpa, TOP_GAUGE_KPA, 0)
  const perK = slope(
    'temperature',
    0.5,
    temperatureK,
    OXYGEN_FIT.maxTemperatureK,
    OXYGEN_FIT.minTemperatureK,
  )
  return [
    {
      code: 'gauge',
      value: gaugeU,
      unit: 'kPa',
      contribution: Math.abs(perKpa) * gaugeU,
      provenance: 'common practice',
    },
    {
      code: 'temperature',
      value: temperatureU,
      unit: 'K',
      contribution: Math.abs(perK) * temperatureU,
      provenance: 'common practice',
    },
    {
      code: 'waterVolume',
      value: VOLUME_TOLERANCE,
      unit: '1',
      contribution: rectangular(VOLUME_TOLERANCE * gasKg),
      provenance: 'common practice',
    },
    {
      code: 'realGasFit',
      value: OXYGEN_FIT_ERROR,
      unit: '1',
      contribution: rectangular(OXYGEN_FIT_ERROR * gasKg),
      provenance: 'read',
    },
  ]
}

function clamp(value: number, min: number, max: number): number {
  return Math.min(max, Math.max(min, value))
}
