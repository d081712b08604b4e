import { propaneWinter } from '../../lib/calc/propane-winter'
import { withdrawal } from '../../lib/calc/withdrawal'
import { propaneWinterInputSchema } from '../../lib/schemas/calc-contents'
import { withdrawalInputSchema } from '../../lib/schemas/calc-input'
import { type CalcFunctions, calcFunction } from './calc-function'

export const DRAW_FUNCTIONS: CalcFunctions = {
  withdrawal: calcFunction(
    'Draw that one cylinder allows, and cylinders on a manifold',
    withdrawalInputSchema,
    withdrawal,
  ),
  'propane-winter': calcFunction(
    'Whether propane boils fast enough in the cold, and the pressure left',
    propaneWinterInputSchema,
    propaneWinter,
  ),
}
