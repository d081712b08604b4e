import type { Unit } from '@/lib/calc/units'
import {
  celsiusFromKelvin,
  convert,
  fahrenheitFromKelvin,
  kelvinFromCelsius,
  kelvinFromFahrenheit,
} from '@/lib/calc/units'

/** A unit a person may type in: calc's, or a temperature scale. */
export interface FieldUnit {
  readonly unit: Unit | 'degF' | 'degC' | 'percent' | 'ppm' | 'count'
  readonly label: string
}

const isTemperature = (unit: FieldUnit['unit']) => unit === 'degF' || unit === 'degC'
const isPlain = (unit: FieldUnit['unit']): unit is 'percent' | 'ppm' | 'count' =>
  unit === 'percent' || unit === 'ppm' || unit === 'count'

/** A typed number, with a thousands comma or not; null when there is none. */
export function parseTyped(text: string): number | null {
  const plain = text.trim().replace(/,(?=\d{3}(\D|$))/g, '')
  return /^-?(\d+(\.\d*)?|\.\d+)$/.test(plain) ? Number(plain) : null
}

/** The same amount in another unit, to as many figures as anyone types. */
export function convertTyped({
  value,
  from,
  to,
}: Readonly<{ value: number; from: FieldUnit['unit']; to: FieldUnit['unit'] }>): string {
  if (from === to || isPlain(from) || isPlain(to)) return trimmed(value)
  if (isTemperature(from) || isTemperature(to)) {
    const kelvin = from === 'degF' ? kelvinFromFahrenheit(value) : kelvinFromCelsius(value)
    return trimmed(to === 'degF' ? fahrenheitFromKelvin(kelvin) : celsiusFromKelvin(kelvin))
  }
  return trimmed(convert({ value, from: from as Unit, to: to as Unit }))
}

function trimmed(value: number): string {
  return String(Number(value.toPrecision(4)))
}
