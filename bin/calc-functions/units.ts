import { z } from 'zod'
import { CYLINDER_GAS_CODES } from '../../lib/calc/gas-data'
import {
  celsiusFromKelvin,
  convert,
  fahrenheitFromKelvin,
  gasFt3FromKg,
  gasKgFromFt3,
  kelvinFromCelsius,
  kelvinFromFahrenheit,
  UNITS,
  type Unit,
} from '../../lib/calc/units'
import { type CalcFunctions, calcFunction } from './calc-function'

const unit = z.enum(Object.keys(UNITS) as [Unit, ...Unit[]])
const gas = z.enum(CYLINDER_GAS_CODES)

const scale = z.enum(['K', 'C', 'F'])
type Scale = z.infer<typeof scale>
const toKelvin: Record<Scale, (value: number) => number> = {
  K: (value) => value,
  C: kelvinFromCelsius,
  F: kelvinFromFahrenheit,
}
const fromKelvin: Record<Scale, (kelvin: number) => number> = {
  K: (kelvin) => kelvin,
  C: celsiusFromKelvin,
  F: fahrenheitFromKelvin,
}

export const UNIT_FUNCTIONS: CalcFunctions = {
  convert: calcFunction(
    'A quantity in another unit of the same kind',
    z.strictObject({ value: z.number(), from: unit, to: unit }),
    (quantity) => ({ ok: true, value: convert(quantity), unit: quantity.to }),
  ),
  temperature: calcFunction(
    'A temperature on another scale: K, C or F',
    z.strictObject({ value: z.number(), from: scale, to: scale }),
    ({ value, from, to }) => ({ ok: true, value: fromKelvin[to](toKelvin[from](value)), unit: to }),
  ),
  'gas-mass': calcFunction(
    'Kilograms of a gas from cubic feet at 70 °F and 1 atm',
    z.strictObject({ gas, volumeFt3: z.number() }),
    (input) => ({ ok: true, gasKg: gasKgFromFt3(input.gas, input.volumeFt3) }),
  ),
  'gas-volume': calcFunction(
    'Cubic feet at 70 °F and 1 atm of kilograms of a gas',
    z.strictObject({ gas, gasKg: z.number() }),
    (input) => ({ ok: true, volumeFt3: gasFt3FromKg(input.gas, input.gasKg) }),
  ),
}
