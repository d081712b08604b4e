import { ACETYLENE_LOG_SLOPE_PER_K, ACETYLENE_LOG_SLOPE_SPREAD_PER_K } from './acetylene-gauge'
import { numberRefusals, type Outcome } from './check-numbers'
import { HIGH_PRESSURE_FULL_SCALE_KPA } from './contents-real-gas'
import { type Gauge, gaugeLimit } from './gauge-class'
import { input, type Measured, measure } from './measured'
import {
  type PermanentGasCode,
  REAL_GAS_FIT,
  REAL_GAS_TOP_GAUGE_KPA,
  realGasContentsKg,
  realGasGaugePressureKpa,
} from './real-gas'
import { refuse } from './refusal'
import { rectangular, Z_90 } from './stats'
import { absKpaFromGaugeKpa, gaugeKpaFromPsig, STANDARD_PRESSURE_KPA } from './units'

export type GaugeTemperatureInput = {
  gas: PermanentGasCode | 'acetylene'
  gaugePressureKpa: number
  temperatureK: number
  toTemperatureK: number
  gauge?: Gauge
  temperatureStandardUncertaintyK?: number
}

export type GaugeTemperature = Outcome<{
  gaugePressureKpa: Measured
  /** What the ideal gas law would say; for acetylene null, since most of it is dissolved. */
  idealGaugePressureKpa: number | null
}>

/** Common practice, no source: how well the gas's temperature is known. */
const TEMPERATURE_U_K = 1
const ACETYLENE_FULL_SCALE_KPA = gaugeKpaFromPsig(400)
/** No dissolved cylinder shows more in the sun. Common practice, no source. */
const ACETYLENE_TOP_KPA = gaugeKpaFromPsig(600)
/** A cylinder of 1 m³: only the density matters. */
const WATER_VOLUME_L = 1000

/**
 * What a gauge will show of the same gas at another temperature, nothing drawn.
 *
 * @param reading gas, gauge pressure (kPa) and temperature (K), and the other temperature (K); 243 to 328 K
 * @returns kPa gauge with uncertainty and the ideal figure beside it; or refusals
 * @remarks A full oxygen cylinder moves 5.9 psi per °F, not the 4.2 of the ideal gas.
 * @source constant density of the real gas (`real-gas`); acetylene: exp(0.02104 ΔT), Berthelot and Vieille in
 *   Leeds and Butterfield ch. XI (Gutenberg 8144), read, with the spread of their three mixtures
 */
export function gaugeAtTemperature(reading: GaugeTemperatureInput): GaugeTemperature {
  const { minTemperatureK: min, maxTemperatureK: max } = REAL_GAS_FIT
  const kelvin = { min, max, unit: 'K' }
  const topKpa = reading.gas === 'acetylene' ? ACETYLENE_TOP_KPA : REAL_GAS_TOP_GAUGE_KPA
  const refusals = numberRefusals({
    gaugePressureKpa: [reading.gaugePressureKpa, { min: 0, max: topKpa, unit: 'kPa' }],
    temperatureK: [reading.temperatureK, kelvin],
    toTemperatureK: [reading.toTemperatureK, kelvin],
    temperatureStandardUncertaintyK: [reading.temperatureStandardUncertaintyK, { min: 0 }],
  })
  if (refusals.length > 0) return refuse(refusals)
  return reading.gas === 'acetylene' ? dissolved(reading) : permanent(reading, reading.gas)
}

function permanent(reading: GaugeTemperatureInput, gas: PermanentGasCode): GaugeTemperature {
  const shown = (gaugePressureKpa: number, temperatureK: number, toTemperatureK: number) => {
    const waterVolumeL = WATER_VOLUME_L
    const gasKg = realGasContentsKg({ gas, gaugePressureKpa, temperatureK, waterVolumeL })
    const mostKg = realGasContentsKg({
      gas,
      gaugePressureKpa: REAL_GAS_TOP_GAUGE_KPA,
      temperatureK: toTemperatureK,
      waterVolumeL,
    })
    if (gasKg > mostKg) return null
    return realGasGaugePressureKpa({ gas, gasKg, temperatureK: toTemperatureK, waterVolumeL })
  }
  const { gaugePressureKpa, temperatureK, toTemperatureK } = reading
  if (shown(gaugePressureKpa, temperatureK, toTemperatureK) === null) {
    const limit = { max: REAL_GAS_TOP_GAUGE_KPA, unit: 'kPa' }
    return refuse([{ code: 'OUTSIDE_FIT', field: 'toTemperatureK', value: toTemperatureK, limit }])
  }
  const idealAbsKpa = absKpaFromGaugeKpa(gaugePressureKpa) * (toTemperatureK / temperatureK)
  return {
    ok: true,
    idealGaugePressureKpa: Math.max(0, idealAbsKpa - STANDARD_PRESSURE_KPA),
    gaugePressureKpa: measure({
      formulaCode: 'gaugeAtTemperature',
      unit: 'kPa',
      min: 0,
      tableId: `${gas}-real-gas-fit`,
      inputs: inputsOf(reading, HIGH_PRESSURE_FULL_SCALE_KPA),
      of: (at) =>
        shown(at.gaugePressureKpa, at.temperatureK, at.toTemperatureK) ?? REAL_GAS_TOP_GAUGE_KPA,
    }),
  }
}

function dissolved(reading: GaugeTemperatureInput): GaugeTemperature {
  // The interval of nine in ten reaches the furthest of the three mixtures.
  const spread = ACETYLENE_LOG_SLOPE_SPREAD_PER_K / Z_90
  return {
    ok: true,
    idealGaugePressureKpa: null,
    gaugePressureKpa: measure({
      formulaCode: 'acetyleneGaugeAtTemperature',
      unit: 'kPa',
      min: 0,
      tableId: 'acetylene-over-acetone',
      inputs: {
        ...inputsOf(reading, ACETYLENE_FULL_SCALE_KPA),
        logSlopePerK: input(ACETYLENE_LOG_SLOPE_PER_K, '1/K', { u: spread, provenance: 'read' }),
      },
      of: (at) => {
        const rise = at.logSlopePerK * (at.toTemperatureK - at.temperatureK)
        const shown = absKpaFromGaugeKpa(at.gaugePressureKpa) * Math.exp(rise)
        return Math.max(0, shown - STANDARD_PRESSURE_KPA)
      },
    }),
  }
}

function inputsOf(reading: GaugeTemperatureInput, defaultFullScaleKpa: number) {
  const { gauge, gaugePressureKpa } = reading
  const { limitKpa, provenance } = gaugeLimit({ gauge, gaugePressureKpa, defaultFullScaleKpa })
  const u = reading.temperatureStandardUncertaintyK ?? TEMPERATURE_U_K
  const { minTemperatureK: min, maxTemperatureK: max } = REAL_GAS_FIT
  const kelvin = { u, provenance: 'common practice', min, max } as const
  return {
    gaugePressureKpa: input(gaugePressureKpa, 'kPa', {
      u: rectangular(limitKpa),
      provenance,
      min: 0,
      max: REAL_GAS_TOP_GAUGE_KPA,
    }),
    temperatureK: input(reading.temperatureK, 'K', kelvin),
    toTemperatureK: input(reading.toTemperatureK, 'K', kelvin),
  }
}
