import { hoseGrade, hoseSetting, longestHoseM } from '../../lib/calc/hose'
import { leakTest, regulatorCreep } from '../../lib/calc/leak-test'
import { leakTrend } from '../../lib/calc/leak-trend'
import { manifold } from '../../lib/calc/manifold'
import { propaneWinter } from '../../lib/calc/propane-winter'
import { runTime } from '../../lib/calc/run-time'
import { withdrawal } from '../../lib/calc/withdrawal'
import { propaneWinterInputSchema } from '../../lib/schemas/calc-contents'
import {
  hoseGradeInputSchema,
  hoseInputSchema,
  leakTestInputSchema,
  leakTrendInputSchema,
  manifoldInputSchema,
  regulatorCreepInputSchema,
  runTimeInputSchema,
} from '../../lib/schemas/calc-draw'
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
  manifold: calcFunction(
    'Cylinders for a draw and a time, and how many may share a manifold',
    manifoldInputSchema,
    manifold,
  ),
  'run-time': calcFunction(
    'How long cylinders last down to where they are changed',
    runTimeInputSchema,
    runTime,
  ),
  hose: calcFunction(
    'Regulator setting so that the tip sees its pressure after the hose',
    hoseInputSchema,
    hoseSetting,
  ),
  'hose-longest': calcFunction(
    'Longest hose of the bore that brings the flow within the limit',
    hoseInputSchema,
    (known) => ({ ok: true, longestM: longestHoseM(known, known.bore) }),
  ),
  'hose-grade': calcFunction(
    'Whether a grade of hose is for a fuel',
    hoseGradeInputSchema,
    hoseGrade,
  ),
  'leak-test': calcFunction(
    'Pressure-hold test of hoses and regulator: verdict and leak',
    leakTestInputSchema,
    leakTest,
  ),
  'leak-trend': calcFunction(
    'Whether hold tests of one outfit get worse from day to day',
    leakTrendInputSchema,
    (known) => ({ ok: true, ...leakTrend(known) }),
  ),
  'regulator-creep': calcFunction(
    'Whether a regulator lets its low side rise',
    regulatorCreepInputSchema,
    regulatorCreep,
  ),
}
