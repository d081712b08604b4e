import { combustionOxygen, flameHeat } from '../../lib/calc/flame'
import { flameWork } from '../../lib/calc/flame-work'
import { heatingGas } from '../../lib/calc/heating'
import { shieldingGas } from '../../lib/calc/shielding-gas'
import { workCost } from '../../lib/calc/work-cost'
import {
  combustionInputSchema,
  flameHeatInputSchema,
  flameWorkInputSchema,
  heatingInputSchema,
  shieldingInputSchema,
  workCostInputSchema,
} from '../../lib/schemas/calc-draw'
import { type CalcFunctions, calcFunction } from './calc-function'

export const GAS_WORK_FUNCTIONS: CalcFunctions = {
  'combustion-oxygen': calcFunction(
    'Oxygen to burn a volume of fuel, whole and from the torch',
    combustionInputSchema,
    combustionOxygen,
  ),
  'flame-heat': calcFunction(
    'Heat of a flame, what enters the work, and its density on a spot',
    flameHeatInputSchema,
    flameHeat,
  ),
  heating: calcFunction(
    'Gas for a heating head; refused where it would draw acetone',
    heatingInputSchema,
    heatingGas,
  ),
  'flame-work': calcFunction(
    'Gas, time and rod of oxy-fuel welding, brazing or gouging',
    flameWorkInputSchema,
    flameWork,
  ),
  'shielding-gas': calcFunction(
    'Weld metal, wire, arc time and shielding gas of a weld',
    shieldingInputSchema,
    shieldingGas,
  ),
  'work-cost': calcFunction(
    'Cost of gas, rent, labour and consumables, per cut and per metre',
    workCostInputSchema,
    workCost,
  ),
}
