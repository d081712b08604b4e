import { z } from 'zod'
import { GAS_CODES } from '../../lib/calc/gas-data'
import { convert, gasFt3FromKg, gasKgFromFt3, UNITS, type Unit } from '../../lib/calc/units'
import { type CalcFunctions, calcFunction } from './calc-function'

const unit = z.enum(Object.keys(UNITS) as [Unit, ...Unit[]])
const gas = z.enum(GAS_CODES)

export const UNIT_FUNCTIONS: CalcFunctions = {
  convert: calcFunction(
    'A quantity in another unit of the same kind',
    z.strictObject({ value: z.number(), from: unit, to: unit }),
    (quantity) => ({ ok: true, value: convert(quantity), unit: quantity.to }),
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
