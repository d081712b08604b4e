import { CalcError, requireNumber } from './errors'
import { absKpaFromGaugeKpa, STANDARD_PRESSURE_KPA, STANDARD_TEMPERATURE_K } from './units'

/** Gases that stay a gas in the cylinder, so that pressure tells their mass. */
export const PERMANENT_GAS_CODES = ['oxygen', 'nitrogen', 'argon'] as const
export type PermanentGasCode = (typeof PERMANENT_GAS_CODES)[number]

type Fit = {
  /** a[i][j] multiplies (P/10)^(i+1) (300/T - 1)^j, P in MPa absolute. */
  a: readonly (readonly [number, number, number])[]
  kgPerMol: number
  /** Largest error of the fit, as a fraction of Z. */
  maxError: number
}

/**
 * Fits to the reference equations, 243 to 328 K and 0.05 to 22 MPa.
 *
 * @source oxygen: Schmidt & Wagner, Fluid Phase Equilib. 19 (1985) 175. Nitrogen: Span, Lemmon, Jacobsen,
 *   Wagner & Yokozeki, J. Phys. Chem. Ref. Data 29 (2000) 1361. Argon: Tegeler, Span & Wagner, J. Phys. Chem.
 *   Ref. Data 28 (1999) 779. Coefficients of the equations read in the open CoolProp fluid files; fits by least
 *   squares; the equations were evaluated by hand and meet each file's own check state to 14 digits.
 */
const FITS: Readonly<Record<PermanentGasCode, Fit>> = {
  oxygen: {
    a: [
      [-0.061_83, -0.310_187, -0.257_345],
      [0.010_616, -0.007_258, -0.314_411],
      [0.005_533, 0.039_91, 0.232_879],
      [-0.000_874, -0.005_595, -0.032_559],
    ],
    kgPerMol: 0.031_998_8,
    maxError: 0.000_73,
  },
  nitrogen: {
    a: [
      [-0.018_273, -0.248_605, -0.271_288],
      [0.022_366, 0.046_002, -0.092_41],
      [0.001_874, 0.024_549, 0.147_697],
      [-0.000_696, -0.005_798, -0.031_552],
    ],
    kgPerMol: 0.028_013_48,
    maxError: 0.000_33,
  },
  argon: {
    a: [
      [-0.060_657, -0.299_012, -0.241_475],
      [0.012_568, -0.003_072, -0.309_795],
      [0.004_487, 0.036_775, 0.235_484],
      [-0.000_698, -0.005_054, -0.034_681],
    ],
    kgPerMol: 0.039_948,
    maxError: 0.000_61,
  },
}

/** Where the fits hold. Absolute pressure in kPa. */
export const REAL_GAS_FIT = {
  minTemperatureK: 243,
  maxTemperatureK: 328,
  maxPressureAbsKpa: 22_000,
} as const

/** Largest gauge pressure inside the fits. */
export const REAL_GAS_TOP_GAUGE_KPA = REAL_GAS_FIT.maxPressureAbsKpa - STANDARD_PRESSURE_KPA

const GAS_CONSTANT = 8.314_462_618

type State = { gas: PermanentGasCode; pressureAbsKpa: number; temperatureK: number }

/** True for a gas whose pressure tells its mass. */
export function isPermanentGas(gas: string): gas is PermanentGasCode {
  return (PERMANENT_GAS_CODES as readonly string[]).includes(gas)
}

/** Largest error of a gas's fit, as a fraction of its density. */
export function realGasFitError(gas: PermanentGasCode): number {
  return FITS[gas].maxError
}

/**
 * Compressibility factor.
 *
 * @param state pressureAbsKpa 0 to 22,000 and temperatureK 243 to 328
 * @returns scalar Z
 * @throws {CalcError} OUT_OF_RANGE outside the fit: it does not extrapolate
 * @remarks Within 0.073 % of the reference equations. A cubic equation misses by 2 %.
 * @source `FITS`
 */
export function compressibility({ gas, pressureAbsKpa, temperatureK }: State): number {
  requireNumber('pressureAbsKpa', pressureAbsKpa, { min: 0, max: REAL_GAS_FIT.maxPressureAbsKpa })
  requireNumber('temperatureK', temperatureK, {
    min: REAL_GAS_FIT.minTemperatureK,
    max: REAL_GAS_FIT.maxTemperatureK,
  })
  const p = pressureAbsKpa / 10_000
  const t = 300 / temperatureK - 1
  return FITS[gas].a.reduce((z, [a0, a1, a2], i) => z + (a0 + (a1 + a2 * t) * t) * p ** (i + 1), 1)
}

/**
 * Density as a real gas.
 *
 * @param state pressureAbsKpa (kPa, absolute), temperatureK (K), inside the fit
 * @returns scalar, kg/m³
 * @throws {CalcError} OUT_OF_RANGE outside the fit
 * @source R: CODATA 2018. Molar masses: the reference equations' own.
 */
export function realGasDensityKgPerM3(state: State): number {
  const z = compressibility(state)
  return (
    (state.pressureAbsKpa * 1000 * FITS[state.gas].kgPerMol) /
    (z * GAS_CONSTANT * state.temperatureK)
  )
}

/**
 * Mass of gas in a cylinder, from its gauge.
 *
 * @param state gas, gaugePressureKpa >= 0, temperatureK, waterVolumeL > 0
 * @returns scalar, kg; includes what stays in at atmospheric pressure
 * @throws {CalcError} OUT_OF_RANGE
 * @source `compressibility`; atmosphere taken as 101.325 kPa.
 */
export function realGasContentsKg(state: {
  gas: PermanentGasCode
  gaugePressureKpa: number
  temperatureK: number
  waterVolumeL: number
}): number {
  const { gas, temperatureK } = state
  requireNumber('gaugePressureKpa', state.gaugePressureKpa, { min: 0 })
  requireNumber('waterVolumeL', state.waterVolumeL, { above: 0 })
  const pressureAbsKpa = absKpaFromGaugeKpa(state.gaugePressureKpa)
  return (realGasDensityKgPerM3({ gas, pressureAbsKpa, temperatureK }) * state.waterVolumeL) / 1000
}

/**
 * Gauge pressure at which a cylinder holds a given mass: the inverse of `realGasContentsKg`.
 *
 * @param state gas, gasKg, temperatureK, waterVolumeL
 * @returns scalar, kPa gauge; 0 when the mass is what atmospheric pressure holds, or less
 * @throws {CalcError} OUT_OF_RANGE when more than the fit's top pressure would hold
 */
export function realGasGaugePressureKpa(state: {
  gas: PermanentGasCode
  gasKg: number
  temperatureK: number
  waterVolumeL: number
}): number {
  const { gas, gasKg, temperatureK, waterVolumeL } = state
  requireNumber('gasKg', gasKg, { min: 0 })
  const contentsAt = (gaugePressureKpa: number) =>
    realGasContentsKg({ gas, gaugePressureKpa, temperatureK, waterVolumeL })
  if (gasKg <= contentsAt(0)) return 0
  const max = contentsAt(REAL_GAS_TOP_GAUGE_KPA)
  if (gasKg > max) throw new CalcError('OUT_OF_RANGE', 'gasKg', gasKg, { max })
  return bisect((gauge) => contentsAt(gauge) - gasKg, 0, REAL_GAS_TOP_GAUGE_KPA)
}

/**
 * Water volume that makes a size's nominal contents true, as a real gas at 70 °F.
 *
 * @param size gas, nominalKg > 0, ratedGaugePressureKpa > 0
 * @returns scalar, L
 * @throws {CalcError} OUT_OF_RANGE
 * @remarks With the ideal gas law oxygen's would come out 6 % too large.
 */
export function realGasWaterVolumeL(size: {
  gas: PermanentGasCode
  nominalKg: number
  ratedGaugePressureKpa: number
}): number {
  requireNumber('nominalKg', size.nominalKg, { above: 0 })
  requireNumber('ratedGaugePressureKpa', size.ratedGaugePressureKpa, { above: 0 })
  const full = {
    gas: size.gas,
    pressureAbsKpa: absKpaFromGaugeKpa(size.ratedGaugePressureKpa),
    temperatureK: STANDARD_TEMPERATURE_K,
  }
  return (size.nominalKg / realGasDensityKgPerM3(full)) * 1000
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
