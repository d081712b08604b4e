import { contentsFromReading } from '../../lib/calc/contents'
import { withdrawal } from '../../lib/calc/withdrawal'
import { contentsInputSchema, withdrawalInputSchema } from '../../lib/schemas/calc-input'
import { type CalcFunctions, calcFunction } from './calc-function'

export const CONTENTS_FUNCTIONS: CalcFunctions = {
  contents: calcFunction(
    'Mass of gas in a cylinder from one reading, with its uncertainty',
    contentsInputSchema,
    ({ reading, size }) => contentsFromReading(reading, size),
  ),
  withdrawal: calcFunction(
    'Draw that one cylinder allows, and cylinders on a manifold',
    withdrawalInputSchema,
    withdrawal,
  ),
}
