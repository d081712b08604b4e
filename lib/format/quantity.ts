import type { CylinderGasCode } from '@/lib/calc/gas-data'
import type { Unit } from '@/lib/calc/units'
import { celsiusFromKelvin, convert, fahrenheitFromKelvin, gasM3FromKg } from '@/lib/calc/units'
import { decimalsFor, formatInterval, formatNumber } from './numbers'
import type { FormatPrefs } from './prefs'

type UnitsPref = Pick<FormatPrefs, 'units'>

/** A number and its unit, apart, since the unit is set smaller. */
export interface Quantity {
  readonly value: string
  readonly unit: string
}

export interface QuantityInterval extends Quantity {
  /** "80–92", in the same unit. */
  readonly interval: string
}

interface Shown {
  readonly unit: Unit
  readonly label: string
  readonly decimals?: number
}

/** What each kind of number is read in. @source reading habits: common practice, no source */
const SHOWN = {
  gasVolume: {
    us: { unit: 'ft3', label: 'ft³', decimals: 0 },
    si: { unit: 'm3', label: 'm³', decimals: 2 },
  },
  gasFlow: { us: { unit: 'ft3/h', label: 'ft³/h' }, si: { unit: 'm3/h', label: 'm³/h' } },
  gaugePressure: {
    us: { unit: 'psi', label: 'psi', decimals: 0 },
    si: { unit: 'kPa', label: 'kPa', decimals: 0 },
  },
  length: { us: { unit: 'ft', label: 'ft' }, si: { unit: 'm', label: 'm' } },
  distance: {
    us: { unit: 'ft', label: 'ft', decimals: 1 },
    si: { unit: 'm', label: 'm', decimals: 1 },
  },
  thickness: {
    us: { unit: 'in', label: 'in', decimals: 3 },
    si: { unit: 'mm', label: 'mm', decimals: 1 },
  },
  orifice: {
    us: { unit: 'in', label: 'in', decimals: 3 },
    si: { unit: 'mm', label: 'mm', decimals: 2 },
  },
  area: { us: { unit: 'ft2', label: 'ft²' }, si: { unit: 'm2', label: 'm²' } },
  areaRate: {
    us: { unit: 'ft2/h', label: 'ft²/h' },
    si: { unit: 'm2/h', label: 'm²/h' },
  },
  mass: {
    us: { unit: 'lb', label: 'lb', decimals: 0 },
    si: { unit: 'kg', label: 'kg', decimals: 0 },
  },
  smallMass: {
    us: { unit: 'lb', label: 'lb', decimals: 1 },
    si: { unit: 'kg', label: 'kg', decimals: 2 },
  },
  speed: {
    us: { unit: 'in/min', label: 'in/min' },
    si: { unit: 'mm/min', label: 'mm/min', decimals: 0 },
  },
} as const satisfies Record<string, Record<FormatPrefs['units'], Shown>>

export type QuantityKind = keyof typeof SHOWN

const BASE: Readonly<Record<QuantityKind, Unit>> = {
  gasVolume: 'm3',
  gasFlow: 'm3/s',
  gaugePressure: 'kPa',
  length: 'm',
  distance: 'm',
  thickness: 'm',
  orifice: 'm',
  area: 'm2',
  areaRate: 'm2/s',
  mass: 'kg',
  smallMass: 'kg',
  speed: 'm/s',
}

function shown(kind: QuantityKind, base: number, prefs: UnitsPref) {
  const row: Shown = SHOWN[kind][prefs.units]
  const value = convert({ value: base, from: BASE[kind], to: row.unit })
  return { value, row, decimals: row.decimals ?? decimalsFor(value) }
}

/** A value in calc's base unit (m, kg, kPa gauge, m³, m/s, m³/s) as this person reads it. */
export function formatQuantity(kind: QuantityKind, base: number, prefs: UnitsPref): Quantity {
  const { value, row, decimals } = shown(kind, base, prefs)
  return { value: formatNumber(value, decimals), unit: row.label }
}

export function formatQuantityInterval(
  kind: QuantityKind,
  { value, low, high }: Readonly<{ value: number; low: number; high: number }>,
  prefs: UnitsPref,
): QuantityInterval {
  const middle = shown(kind, value, prefs)
  const ends = [low, high].map((end) => shown(kind, end, prefs).value)
  return {
    value: formatNumber(middle.value, middle.decimals),
    unit: middle.row.label,
    interval: formatInterval(ends[0] ?? middle.value, ends[1] ?? middle.value, middle.decimals),
  }
}

/** Kilograms of a gas as cubic feet or cubic metres at 70 °F and 1 atm. */
export function formatGas(
  { gas, kg }: Readonly<{ gas: CylinderGasCode; kg: number }>,
  prefs: UnitsPref,
): Quantity {
  return formatQuantity('gasVolume', gasM3FromKg(gas, kg), prefs)
}

export function formatGasInterval(
  {
    gas,
    kg,
    lowKg,
    highKg,
  }: Readonly<{ gas: CylinderGasCode; kg: number; lowKg: number; highKg: number }>,
  prefs: UnitsPref,
): QuantityInterval {
  const m3 = (amountKg: number) => gasM3FromKg(gas, amountKg)
  return formatQuantityInterval(
    'gasVolume',
    { value: m3(kg), low: m3(lowKg), high: m3(highKg) },
    prefs,
  )
}

export function formatTemperature(temperatureK: number, { units }: UnitsPref): Quantity {
  return units === 'us'
    ? { value: formatNumber(fahrenheitFromKelvin(temperatureK)), unit: '°F' }
    : { value: formatNumber(celsiusFromKelvin(temperatureK)), unit: '°C' }
}

/** "86 ft³", with a space that does not break. */
export function joinQuantity({ value, unit }: Quantity): string {
  return `${value}\u00a0${unit}`
}
