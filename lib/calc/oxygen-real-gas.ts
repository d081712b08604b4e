import {
  REAL_GAS_FIT,
  realGasContentsKg,
  realGasDensityKgPerM3,
  realGasGaugePressureKpa,
  realGasWaterVolumeL,
} from './real-gas'

/** Where the fit holds, for oxygen as for the others. */
export const OXYGEN_FIT = REAL_GAS_FIT

/** Density of oxygen, kg/m³: `realGasDensityKgPerM3`. */
export function oxygenDensityKgPerM3(state: { pressureAbsKpa: number; temperatureK: number }) {
  return realGasDensityKgPerM3({ ...state, gas: 'oxygen' })
}

/** Mass of oxygen in a cylinder, kg, from its gauge: `realGasContentsKg`. */
export function oxygenContentsKg(state: {
  gaugePressureKpa: number
  temperatureK: number
  waterVolumeL: number
}) {
  return realGasContentsKg({ ...state, gas: 'oxygen' })
}

/** Gauge pressure, kPa, at which a cylinder holds a mass of oxygen: `realGasGaugePressureKpa`. */
export function oxygenGaugePressureKpa(state: {
  gasKg: number
  temperatureK: number
  waterVolumeL: number
}) {
  return realGasGaugePressureKpa({ ...state, gas: 'oxygen' })
}

/** Water volume, L, that makes an oxygen size's nominal contents true: `realGasWaterVolumeL`. */
export function waterVolumeFromNominal(size: { nominalKg: number; ratedGaugePressureKpa: number }) {
  return realGasWaterVolumeL({ ...size, gas: 'oxygen' })
}
