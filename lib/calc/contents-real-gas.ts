import { assemble } from './contents-assemble'
import type { ContentsOutcome, CylinderReading, CylinderSize } from './contents-types'
import { gaugeLimit } from './gauge-class'
import {
  isPermanentGas,
  type PermanentGasCode,
  REAL_GAS_FIT,
  REAL_GAS_TOP_GAUGE_KPA,
  realGasContentsKg,
  realGasFitError,
  realGasWaterVolumeL,
} from './real-gas'
import { type Refusal, refuse } from './refusal'
import type { Term } from './source'
import { rectangular } from './stats'
import { term } from './trace'
import { gaugeKpaFromPsig } from './units'

type GaugeReading = Extract<CylinderReading, { kind: 'gauge' }>
type PermanentSize = CylinderSize & { gas: PermanentGasCode }

/** Common practice, no source: a regulator's high-pressure gauge. */
export const HIGH_PRESSURE_FULL_SCALE_KPA = gaugeKpaFromPsig(4000)
/** Common practice, no source: air for gas temperature, in shade. */
const TEMPERATURE_U_K = 3
/** Common practice, no source: a size's water volume against this cylinder's. */
export const VOLUME_TOLERANCE = 0.01

/** True for a size whose gauge tells its mass. */
export function isPermanentSize(size: CylinderSize): size is PermanentSize {
  return isPermanentGas(size.gas)
}

/**
 * Oxygen, nitrogen or argon by gauge and temperature, as a real gas.
 *
 * @param reading gauge pressure (kPa) and temperature (K), with the gauge's class
 * @param size water volume, or nominal contents and rated pressure to find it from
 * @returns contents with the terms of their uncertainty, or refusals
 * @source `realGasContentsKg`; sensitivities by central difference.
 */
export function realGasContents(reading: GaugeReading, size: PermanentSize): ContentsOutcome {
  const waterVolumeL = waterVolumeOf(size)
  const refusals = check(reading, waterVolumeL)
  if (refusals.length > 0 || waterVolumeL === null) return refuse(refusals)
  const { gaugePressureKpa, temperatureK } = reading
  const gasKg = realGasContentsKg({ gas: size.gas, gaugePressureKpa, temperatureK, waterVolumeL })
  return assemble(size, gasKg, terms(reading, size.gas, { waterVolumeL, gasKg }), {
    formulaCode: `${size.gas}ByGauge`,
    inputs: [
      { name: 'gaugePressureKpa', value: gaugePressureKpa, unit: 'kPa' },
      { name: 'temperatureK', value: temperatureK, unit: 'K' },
      { name: 'waterVolumeL', value: waterVolumeL, unit: 'L' },
    ],
    tableId: `${size.gas}-real-gas-fit`,
    provenance: 'read',
  })
}

/** Water volume of a size: as stated, else from nominal contents; null when neither is known. */
export function waterVolumeOf(size: CylinderSize): number | null {
  if (size.waterVolumeL !== undefined) return size.waterVolumeL > 0 ? size.waterVolumeL : null
  const rated = size.ratedGaugePressureKpa
  if (!isPermanentSize(size) || rated === undefined) return null
  if (!(rated > 0 && rated <= REAL_GAS_TOP_GAUGE_KPA)) return null
  return realGasWaterVolumeL({
    gas: size.gas,
    nominalKg: size.nominalKg,
    ratedGaugePressureKpa: rated,
  })
}

function check(reading: GaugeReading, waterVolumeL: number | null): Refusal[] {
  const outside = (
    field: string,
    value: number,
    limit: { min: number; max: number; unit: string },
  ) =>
    value >= limit.min && value <= limit.max
      ? []
      : [{ code: 'OUTSIDE_FIT' as const, field: `reading.${field}`, value, limit }]
  const missing: Refusal[] =
    waterVolumeL === null
      ? [
          {
            code: 'SIZE_INCOMPLETE',
            field: 'size.waterVolumeL',
            value: null,
            limit: { above: 0, unit: 'L' },
          },
        ]
      : []
  const { minTemperatureK: min, maxTemperatureK: max } = REAL_GAS_FIT
  return [
    ...missing,
    ...outside('gaugePressureKpa', reading.gaugePressureKpa, {
      min: 0,
      max: REAL_GAS_TOP_GAUGE_KPA,
      unit: 'kPa',
    }),
    ...outside('temperatureK', reading.temperatureK, { min, max, unit: 'K' }),
  ]
}

function terms(
  reading: GaugeReading,
  gas: PermanentGasCode,
  { waterVolumeL, gasKg }: { waterVolumeL: number; gasKg: number },
): Term[] {
  const { limitKpa, provenance } = gaugeLimit({
    gauge: reading.gauge,
    gaugePressureKpa: reading.gaugePressureKpa,
    defaultFullScaleKpa: HIGH_PRESSURE_FULL_SCALE_KPA,
  })
  const gaugeU = rectangular(limitKpa)
  const temperatureU = reading.temperatureStandardUncertaintyK ?? TEMPERATURE_U_K
  const slope = slopes(reading, gas, waterVolumeL)
  const fitError = realGasFitError(gas)
  return [
    term('gauge', [gaugeU, 'kPa'], slope.kgPerKpa * gaugeU, provenance),
    term('temperature', [temperatureU, 'K'], slope.kgPerK * temperatureU, 'common practice'),
    term(
      'waterVolume',
      [VOLUME_TOLERANCE, '1'],
      rectangular(VOLUME_TOLERANCE * gasKg),
      'common practice',
    ),
    term('realGasFit', [fitError, '1'], rectangular(fitError * gasKg), 'read'),
  ]
}

/** How contents answer to gauge and temperature, by differences that stay inside the fit. */
function slopes(reading: GaugeReading, gas: PermanentGasCode, waterVolumeL: number) {
  const { gaugePressureKpa, temperatureK } = reading
  const gauge = within(gaugePressureKpa, 10, { min: 0, max: REAL_GAS_TOP_GAUGE_KPA })
  const bounds = { min: REAL_GAS_FIT.minTemperatureK, max: REAL_GAS_FIT.maxTemperatureK }
  const temperature = within(temperatureK, 0.5, bounds)
  const atGauge = (kpa: number) =>
    realGasContentsKg({ gas, gaugePressureKpa: kpa, temperatureK, waterVolumeL })
  const atTemperature = (kelvin: number) =>
    realGasContentsKg({ gas, gaugePressureKpa, temperatureK: kelvin, waterVolumeL })
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
