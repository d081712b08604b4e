import type { CutCondition, Position } from './estimate-types'
import type { FuelCode } from './gas-data'

/*
 * Figures that no published table gives. Each is judgement from the trade: common practice, no source.
 * They are bounded, shown beside every number that they touch, and kept in this one file.
 */

/** Place between machine-like (0: lean and fast) and hand-like (1: rich and slow) ends of the table. */
export const PROCESS_WEIGHT = { hand: 0.6, machine: 0.3 } as const

/** Longer cutting time out of position and on bad surfaces. */
export const POSITION_TIME: Readonly<Record<Position, number>> = {
  flat: 1,
  horizontal: 1.1,
  vertical: 1.15,
  overhead: 1.3,
}
export const CONDITION_TIME: Readonly<Record<CutCondition, number>> = { dirty: 1.15, awkward: 1.2 }
/** No pile of multipliers goes above this. */
export const MAX_TIME_MULTIPLIER = 1.8

/**
 * Seconds of preheat before piercing, by millimetres. An unsourced trade-school note gives 3 to 5 s at 6 mm
 * and 15 to 20 s at 25 mm; held at 60 s above.
 */
export const PREHEAT_SECONDS = [
  [0, 0],
  [6, 4],
  [25, 17.5],
  [85, 60],
] as const
/** Starting at an edge takes about half as long. */
export const EDGE_START_SHARE = 0.5
/** Cooler flames start more slowly. */
export const PREHEAT_FUEL_FACTOR: Readonly<Record<FuelCode, number>> = {
  acetylene: 1,
  propylene: 1.25,
  mps: 1.25,
  propane: 1.5,
  natural_gas: 1.5,
}

/** Purging both lines and setting the flame, each time the torch is lit. */
export const LIGHT_UP_SECONDS = 30
/** One lighting for each started hour of torch time when nothing else is said. */
export const LIT_SECONDS_PER_LIGHT_UP = 3600
export const IDLE_FLAME_FRACTION = 0.15
export const OPERATING_FACTOR = 0.3

/** Scatter of one cut around its crew's habit, as a coefficient of variation. */
export const CUT_CV = 0.2

/** Share of nominal contents that is left in a fuel cylinder when it is changed. */
export const FUEL_HEEL_SHARE = 0.1
/** psig at which an oxygen cylinder is changed. */
export const OXYGEN_CHANGE_AT_PSIG = 150

/** Narrow edge of usual kerfs, mm by mm of thickness: for the floor, never for a size. */
export const KERF_LOW_MM = [
  [0, 1.5],
  [12, 1.5],
  [25, 2],
  [50, 2.5],
  [100, 3.5],
  [150, 4.5],
  [300, 8],
] as const
