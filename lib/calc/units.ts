import { CalcError, requireNumber } from './errors'
import { type CylinderGasCode, standardDensityKgPerM3 } from './gas-data'

type Dimension =
  | 'length'
  | 'mass'
  | 'pressure'
  | 'volume'
  | 'speed'
  | 'flow'
  | 'power'
  | 'time'
  | 'area'
  | 'areaRate'
type UnitRow = { dimension: Dimension; toBase: number; source: string }

const FOOT_M = 0.3048
const POUND_KG = 0.453_592_37
/** lbf/in²: pound times standard gravity over square inch. */
const PSI_KPA = (POUND_KG * 9.806_65) / 0.0254 ** 2 / 1000
const EXACT = 'exact: international yard and pound agreement of 1959'
const SI = 'exact: SI'

/**
 * The one table of units. Bases inside calc: m, kg, kPa, m³, m/s, m³/s, W, s, m², m²/s.
 *
 * @source inch, foot, pound: exact since 1959; standard gravity 9.80665 m/s² exact (CGPM 1901);
 *   standard atmosphere 101.325 kPa exact (CGPM 1954); Btu (International Table) 1055.05585262 J exact.
 */
export const UNITS = {
  m: { dimension: 'length', toBase: 1, source: SI },
  mm: { dimension: 'length', toBase: 0.001, source: SI },
  in: { dimension: 'length', toBase: 0.0254, source: EXACT },
  ft: { dimension: 'length', toBase: FOOT_M, source: EXACT },
  kg: { dimension: 'mass', toBase: 1, source: SI },
  lb: { dimension: 'mass', toBase: POUND_KG, source: EXACT },
  kPa: { dimension: 'pressure', toBase: 1, source: SI },
  MPa: { dimension: 'pressure', toBase: 1000, source: SI },
  bar: { dimension: 'pressure', toBase: 100, source: SI },
  psi: { dimension: 'pressure', toBase: PSI_KPA, source: EXACT },
  atm: { dimension: 'pressure', toBase: 101.325, source: 'exact: CGPM 1954' },
  m3: { dimension: 'volume', toBase: 1, source: SI },
  L: { dimension: 'volume', toBase: 0.001, source: SI },
  ft3: { dimension: 'volume', toBase: FOOT_M ** 3, source: EXACT },
  m2: { dimension: 'area', toBase: 1, source: SI },
  ft2: { dimension: 'area', toBase: FOOT_M ** 2, source: EXACT },
  'm2/s': { dimension: 'areaRate', toBase: 1, source: SI },
  'm2/h': { dimension: 'areaRate', toBase: 1 / 3600, source: SI },
  'ft2/h': { dimension: 'areaRate', toBase: FOOT_M ** 2 / 3600, source: EXACT },
  'm/s': { dimension: 'speed', toBase: 1, source: SI },
  mph: { dimension: 'speed', toBase: (5280 * FOOT_M) / 3600, source: EXACT },
  'km/h': { dimension: 'speed', toBase: 1 / 3.6, source: SI },
  'mm/min': { dimension: 'speed', toBase: 0.001 / 60, source: SI },
  'in/min': { dimension: 'speed', toBase: 0.0254 / 60, source: EXACT },
  'm3/s': { dimension: 'flow', toBase: 1, source: SI },
  'm3/h': { dimension: 'flow', toBase: 1 / 3600, source: SI },
  'ft3/h': { dimension: 'flow', toBase: FOOT_M ** 3 / 3600, source: EXACT },
  W: { dimension: 'power', toBase: 1, source: SI },
  'Btu/h': {
    dimension: 'power',
    toBase: 1055.055_852_62 / 3600,
    source: 'exact: International Table Btu',
  },
  s: { dimension: 'time', toBase: 1, source: SI },
  min: { dimension: 'time', toBase: 60, source: SI },
  h: { dimension: 'time', toBase: 3600, source: SI },
  day: { dimension: 'time', toBase: 86_400, source: SI },
} as const satisfies Record<string, UnitRow>

export type Unit = keyof typeof UNITS

/** Contents are stated at this temperature and pressure. @source 70 °F and 1 atm: WAC 296-307-48025. */
export const STANDARD_TEMPERATURE_K = (70 + 459.67) / 1.8
export const STANDARD_PRESSURE_KPA = 101.325

/**
 * Converts between two units of the same kind.
 *
 * @param quantity value and the units from and to
 * @returns scalar in `to`
 * @throws {CalcError} NOT_FINITE; WRONG_ORDER when the units measure different things
 */
export function convert(quantity: { value: number; from: Unit; to: Unit }): number {
  const { value, from, to } = quantity
  requireNumber('value', value)
  if (UNITS[from].dimension !== UNITS[to].dimension)
    throw new CalcError('WRONG_ORDER', 'to', to, UNITS[from].dimension)
  return from === to ? value : (value * UNITS[from].toBase) / UNITS[to].toBase
}

/** Temperature on the Kelvin scale, from °F. */
export function kelvinFromFahrenheit(temperatureF: number): number {
  return (temperatureF + 459.67) / 1.8
}

/** Temperature in °F, from kelvin. */
export function fahrenheitFromKelvin(temperatureK: number): number {
  return temperatureK * 1.8 - 459.67
}

/** Temperature on the Kelvin scale, from °C. */
export function kelvinFromCelsius(temperatureC: number): number {
  return temperatureC + 273.15
}

/** Temperature in °C, from kelvin. */
export function celsiusFromKelvin(temperatureK: number): number {
  return temperatureK - 273.15
}

/** A difference of temperatures: °F to K. Not the same conversion as a temperature. */
export function kelvinRiseFromFahrenheitRise(riseF: number): number {
  return riseF / 1.8
}

/** Gauge pressure, kPa, from psig. */
export function gaugeKpaFromPsig(gaugePsi: number): number {
  return gaugePsi * PSI_KPA
}

/** Gauge pressure in psig, from kPa gauge. */
export function psigFromGaugeKpa(gaugePressureKpa: number): number {
  return gaugePressureKpa / PSI_KPA
}

/** Absolute pressure, kPa, from kPa gauge at a standard atmosphere. */
export function absKpaFromGaugeKpa(gaugePressureKpa: number): number {
  return gaugePressureKpa + STANDARD_PRESSURE_KPA
}

/** Absolute pressure, kPa, from psig at a standard atmosphere. */
export function absKpaFromPsig(gaugePsi: number): number {
  return absKpaFromGaugeKpa(gaugeKpaFromPsig(gaugePsi))
}

/** Mass of a gas from its volume at 70 °F and 1 atm. */
export function gasKgFromM3(gas: CylinderGasCode, volumeM3: number): number {
  return volumeM3 * standardDensityKgPerM3(gas)
}

/** Mass flow of a gas, kg/s, from its flow in m³/s at 70 °F and 1 atm. */
export function standardKgPerS(gas: CylinderGasCode, flowM3PerS: number): number {
  return flowM3PerS * standardDensityKgPerM3(gas)
}

/** Volume at 70 °F and 1 atm, m³, of a mass of gas. */
export function gasM3FromKg(gas: CylinderGasCode, gasKg: number): number {
  return gasKg / standardDensityKgPerM3(gas)
}

/** Mass of a gas from cubic feet at 70 °F and 1 atm. */
export function gasKgFromFt3(gas: CylinderGasCode, volumeFt3: number): number {
  return gasKgFromM3(gas, volumeFt3 * UNITS.ft3.toBase)
}

/** Cubic feet at 70 °F and 1 atm of a mass of gas. */
export function gasFt3FromKg(gas: CylinderGasCode, gasKg: number): number {
  return gasM3FromKg(gas, gasKg) / UNITS.ft3.toBase
}
