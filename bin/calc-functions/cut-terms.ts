import { z } from 'zod'
import { PURITY_PCT, pierceSeconds, preheatSeconds, purityFactors } from '../../lib/calc/cut-times'
import { requireNumber } from '../../lib/calc/errors'
import { numberDrillIn, numberDrillOf } from '../../lib/calc/tables/number-drills'
import { tipPressures } from '../../lib/calc/tip-pressures'
import { UNITS } from '../../lib/calc/units'
import { tipSettingsInputSchema } from '../../lib/schemas/calc-estimate'
import { type CalcFunctions, calcFunction } from './calc-function'

const number = z.number()
const { fuel } = tipSettingsInputSchema.shape
const [FIRST_DRILL, LAST_DRILL] = [1, 80]

export const CUT_TERM_FUNCTIONS: CalcFunctions = {
  'tip-pressures': calcFunction(
    'Oxygen and fuel pressure at the torch for a thickness, by a chart or common practice',
    tipSettingsInputSchema,
    ({ tipChart: chart = null, pathM, ...known }) => {
      requireNumber('pathM', pathM, { above: 0 })
      return { ok: true, ...tipPressures({ ...known, chart, pathM }) }
    },
  ),
  'oxygen-purity': calcFunction(
    'How much longer a cut takes, and how much more oxygen, with oxygen below 99.5 %',
    z.strictObject({ purityPct: number }),
    ({ purityPct }) => {
      requireNumber('purityPct', purityPct, { min: PURITY_PCT.min, max: PURITY_PCT.max })
      return { ok: true, ...purityFactors(purityPct) }
    },
  ),
  'start-time': calcFunction(
    'Seconds of preheat and of piercing at a thickness',
    z.strictObject({ fuel, pathM: number }),
    ({ fuel, pathM }) => {
      requireNumber('pathM', pathM, { above: 0 })
      const [preheatS, pierceS] = [preheatSeconds(pathM, fuel), pierceSeconds(pathM)]
      return { ok: true, preheatS, pierceS, provenance: 'common practice' }
    },
  ),
  drill: calcFunction(
    'Hole that a number drill makes',
    z.strictObject({ number: z.int() }),
    ({ number }) => {
      requireNumber('number', number, { min: FIRST_DRILL, max: LAST_DRILL })
      const diameterM = (numberDrillIn(number) ?? Number.NaN) * UNITS.in.toBase
      return { ok: true, diameterM, provenance: 'from memory' }
    },
  ),
  'drill-of-hole': calcFunction(
    'Number of the drill that makes a hole, if one does',
    z.strictObject({ diameterM: number }),
    ({ diameterM }) => {
      requireNumber('diameterM', diameterM, { above: 0 })
      return { ok: true, number: numberDrillOf(diameterM / UNITS.in.toBase) }
    },
  ),
}
