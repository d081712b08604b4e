import type { CalcFunctions } from './calc-function'
import { CONTENTS_FUNCTIONS } from './contents'
import { CUT_TERM_FUNCTIONS } from './cut-terms'
import { CUTTING_FUNCTIONS } from './cutting'
import { DRAW_FUNCTIONS } from './draw'
import { FORECASTING_FUNCTIONS } from './forecasting'
import { GAS_PHYSICS_FUNCTIONS } from './gas-physics'
import { GAS_WORK_FUNCTIONS } from './gas-work'
import { ORDER_DECISION_FUNCTIONS } from './order-decisions'
import { PLANNING_FUNCTIONS } from './planning'
import { RENTING_FUNCTIONS } from './renting'
import { STORE_FUNCTIONS } from './stores'
import { SUPPLY_FUNCTIONS } from './supply'
import { UNCERTAINTY_FUNCTIONS } from './uncertainty'
import { UNIT_FUNCTIONS } from './units'
import { WATCHING_FUNCTIONS } from './watching'

/** Every calculation by name: add a group's file here. A test fails when two groups share a name. */
export const CALC_FUNCTION_GROUPS: readonly CalcFunctions[] = [
  CUTTING_FUNCTIONS,
  CUT_TERM_FUNCTIONS,
  PLANNING_FUNCTIONS,
  CONTENTS_FUNCTIONS,
  DRAW_FUNCTIONS,
  GAS_WORK_FUNCTIONS,
  GAS_PHYSICS_FUNCTIONS,
  SUPPLY_FUNCTIONS,
  FORECASTING_FUNCTIONS,
  ORDER_DECISION_FUNCTIONS,
  RENTING_FUNCTIONS,
  WATCHING_FUNCTIONS,
  STORE_FUNCTIONS,
  UNCERTAINTY_FUNCTIONS,
  UNIT_FUNCTIONS,
]

export const CALC_FUNCTIONS: CalcFunctions = Object.assign({}, ...CALC_FUNCTION_GROUPS)
