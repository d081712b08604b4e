import { boilOff } from '../../lib/calc/boil-off'
import { contentsFromReading } from '../../lib/calc/contents'
import { packContents } from '../../lib/calc/contents-pack'
import { gaugeAtTemperature } from '../../lib/calc/gauge-temperature'
import { idealPressureAbsKpa, idealVolume } from '../../lib/calc/ideal-gas'
import { liquidContents } from '../../lib/calc/liquid-contents'
import { checkNominalByWeight } from '../../lib/calc/nominal-check'
import { propaneCapacity, propaneLiquidVolume } from '../../lib/calc/propane-filling'
import { propaneVapourPressure } from '../../lib/calc/propane-pressure'
import { gasMassFromBase, gasVolumeAtBase } from '../../lib/calc/volume-base'
import {
  boilOffInputSchema,
  gaugeTemperatureInputSchema,
  idealPressureInputSchema,
  idealVolumeInputSchema,
  liquidContentsInputSchema,
  massFromBaseInputSchema,
  nominalCheckInputSchema,
  packInputSchema,
  propaneCapacityInputSchema,
  propaneLiquidInputSchema,
  propanePressureInputSchema,
  volumeAtBaseInputSchema,
} from '../../lib/schemas/calc-contents'
import { contentsInputSchema } from '../../lib/schemas/calc-input'
import { type CalcFunctions, calcFunction } from './calc-function'

export const CONTENTS_FUNCTIONS: CalcFunctions = {
  contents: calcFunction(
    'Mass of gas in a cylinder from one reading, with its uncertainty',
    contentsInputSchema,
    ({ reading, size }) => contentsFromReading(reading, size),
  ),
  'pack-contents': calcFunction(
    'Mass of gas in several cylinders that share one gauge',
    packInputSchema,
    packContents,
  ),
  'liquid-contents': calcFunction(
    'Mass of gas in a liquid cylinder, by weight or level',
    liquidContentsInputSchema,
    liquidContents,
  ),
  'boil-off': calcFunction(
    'What a liquid cylinder loses by standing, and whether more is gone',
    boilOffInputSchema,
    boilOff,
  ),
  'gauge-at-temperature': calcFunction(
    'What a gauge shows of the same gas at another temperature',
    gaugeTemperatureInputSchema,
    gaugeAtTemperature,
  ),
  'volume-at-base': calcFunction(
    'Volume of a mass of gas at 70 °F, 60 °F or 0 °C',
    volumeAtBaseInputSchema,
    gasVolumeAtBase,
  ),
  'mass-from-base': calcFunction(
    'Mass of a volume of gas stated at 70 °F, 60 °F or 0 °C',
    massFromBaseInputSchema,
    gasMassFromBase,
  ),
  'nominal-check': calcFunction(
    'Whether weights empty and full belong to the nominal contents',
    nominalCheckInputSchema,
    checkNominalByWeight,
  ),
  'propane-capacity': calcFunction(
    'Mass of LP-gas that a container may hold, by its water capacity',
    propaneCapacityInputSchema,
    propaneCapacity,
  ),
  'propane-liquid': calcFunction(
    'Volume of liquid LP-gas that a container may hold',
    propaneLiquidInputSchema,
    propaneLiquidVolume,
  ),
  'propane-pressure': calcFunction(
    'Pressure that a propane cylinder shows at a temperature',
    propanePressureInputSchema,
    propaneVapourPressure,
  ),
  'ideal-pressure': calcFunction(
    'Pressure of an ideal gas, for comparison and textbook cases',
    idealPressureInputSchema,
    (known) => ({ ok: true, pressureAbsKpa: idealPressureAbsKpa(known) }),
  ),
  'ideal-volume': calcFunction(
    'Volume of an ideal gas at another pressure and temperature',
    idealVolumeInputSchema,
    (known) => ({ ok: true, volume: idealVolume(known) }),
  ),
}
