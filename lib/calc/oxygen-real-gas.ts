import { CalcError, requireNumber } from './errors'
import { absKpaFromGaugeKpa, STANDARD_PRESSURE_KPA, STANDARD_TEMPERATURE_K } from './units'

/** a[i][j] multiplies (P/10)^(i+1) (300/T - 1)^j, P in MPa absolute. */
const Z_FIT = [
  [-0.061_83, -0.310_187, -0.257_345],
  [0.010_616, -0.007_258, -0.314_411],
  [0.005_533, 0.039_91, 0.232_879],
  [-0.000_874, -0.005_595, -0.032_559],
] as const

/** Where the fit holds. Absolute pressure in kPa. */
export const OXYGEN_FIT = {
  minTemperatureK: 243,
  maxTemperatureK: 328,
  maxPressureAbsKpa: 22_000,
} as const
/** Largest error of the fit, as a fraction of Z. */
export const OXYGEN_FIT_ERROR = 0.000_73

const GAS_CONSTANT = 8.314_462_618
const OXYGEN_KG_PER_MOL = 0.031_998_8

export type OxygenState = { gaugePressureKpa: number; temperatureK: number; waterVolumeL: number }

/**
 * Compressibility factor of oxygen.
 *
 * @param state pressureAbsKpa 0 to 22,000 and temperatureK 243 to 328
 * @returns scalar Z
 * @throws {CalcError} OUT_OF_RANGE outside the fit: it does not extrapolate
 * @remarks Within 0.073 % of the reference equation. A cubic equation misses by 2 %.
 * @source Least-squares fit to Schmidt & Wagner, Fluid Phase Equilib. 19 (1985) 175.
 */
export function oxygenCompressibility(state: {
  pressureAbsKpa: number
  temperatureK: number
}): number {
  const { pressureAbsKpa, temperatureK } = state
  requireNumber('pressureAbsKpa', pressureAbsKpa, { min: 0, max: OXYGEN_FIT.maxPressureAbsKpa })
  requireNumber('temperatureK', temperatureK, {
    min: OXYGEN_FIT.minTemperatureK,
    max: OXYGEN_FIT.maxTemperatureK,
  })
  const p = pressureAbsKpa / 10_000
  const t = 300 / temperatureK - 1
  return Z_FIT.reduce((z, [a0, a1, a2], i) => z + (a0 + (a1 + a2 * t) * t) * p ** (i + 1), 1)
}

/**
 * Density of oxygen, kg/m³, as a real gas.
 *
 * @param state pressureAbsKpa (kPa, absolute), temperatureK (K), inside the fit
 * @returns scalar, kg/m³
 * @throws {CalcError} OUT_OF_RANGE outside the fit
 * @source R: CODATA 2018. Molar mass 31.9988 g/mol: the reference equation's own.
 */
export function oxygenDensityKgPerM3(state: {
  pressureAbsKpa: number
  temperatureK: number
}): number {
  const z = oxygenCompressibility(state)
  return (state.pressureAbsKpa * 1000 * OXYGEN_KG_PER_MOL) / (z * GAS_CONSTANT * state.temperatureK)
}

/**
 * Mass of oxygen in a cylinder, from its gauge.
 *
 * @param state gaugePressureKpa >= 0, temperatureK, waterVolumeL > 0
 * @returns scalar, kg; includes what stays in at atmospheric pressure
 * @throws {CalcError} OUT_OF_RANGE
 * @source `oxygenCompressibility`; atmosphere taken as 101.325 kPa.
 */
export function oxygenContentsKg(state: OxygenState): number {
  requireNumber('gaugePressureKpa', state.gaugePressureKpa, { min: 0 })
  requireNumber('waterVolumeL', state.waterVolumeL, { above: 0 })
  const pressureAbsKpa = absKpaFromGaugeKpa(state.gaugePressureKpa)
  return (
    (oxygenDensityKgPerM3({ pressureAbsKpa, temperatureK: state.temperatureK }) *
      state.waterVolumeL) /
    1000
  )
}

/**
 * Gauge pressure at which a cylinder holds a given mass of oxygen: the inverse of `oxygenContentsKg`.
 *
 * @param input gasKg, temperatureK, waterVolumeL
 * @returns scalar, kPa gauge; 0 when the mass is what atmospheric pressure holds, or less
 * @throws {CalcError} OUT_OF_RANGE when more than the fit's top pressure would hold
 */
export function oxygenGaugePressureKpa(input: {
  gasKg: number
  temperatureK: number
  waterVolumeL: number
}): number {
  const { gasKg, temperatureK, waterVolumeL } = input
  requireNumber('gasKg', gasKg, { min: 0 })
  const contentsAt = (gaugePressureKpa: number) =>
    oxygenContentsKg({ gaugePressureKpa, temperatureK, waterVolumeL })
  if (gasKg <= contentsAt(0)) return 0
  const top = OXYGEN_FIT.maxPressureAbsKpa - STANDARD_PRESSURE_KPA
  if (gasKg > contentsAt(top))
    throw new CalcError('OUT_OF_RANGE', 'gasKg', gasKg, { max: contentsAt(top) })
  return bisect((gauge) => contentsAt(gauge) - gasKg, 0, top)
}

/**
 * Water volume that makes a size's nominal contents true, as a real gas at 70 °F.
 *
 * @param size nominalKg > 0, ratedGaugePressureKpa > 0
 * @returns scalar, L
 * @throws {CalcError} OUT_OF_RANGE
 * @remarks With the ideal gas law it would come out 6 % too large.
 */
export function waterVolumeFromNominal(size: {
  nominalKg: number
  ratedGaugePressureKpa: number
}): number {
  requireNumber('nominalKg', size.nominalKg, { above: 0 })
  requireNumber('ratedGaugePressureKpa', size.ratedGaugePressureKpa, { above: 0 })
  const pressureAbsKpa = absKpaFromGaugeKpa(size.ratedGaugePressureKpa)
  return (
    (size.nominalKg /
      oxygenDensityKgPerM3({ pressureAbsKpa, temperatureK: STANDARD_TEMPERATURE_K })) *
    1000
  )
}

/** Root of a rising function; halves until the bracket can't shrink. */
function bisect(f: (x: number) => number, from: number, to: number): number {
  const bracket = { low: from, high: to }
  for (let i = 0; i < 60; i += 1) {
    const middle = (bracket.low + bracket.high) / 2
    if (f(middle) < 0) bracket.low = middle
    else bracket.high = middle
  }
  return (bracket.low + bracket.high) / 2
}
