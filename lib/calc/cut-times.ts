import { PURITY_PCT } from './estimate-check'
import type { CutInput, CutTime } from './estimate-types'
import type { FuelCode } from './gas-data'
import { interpolateHeld } from './interpolate'
import {
  CONDITION_TIME,
  EDGE_START_SHARE,
  MAX_TIME_MULTIPLIER,
  POSITION_TIME,
  PREHEAT_FUEL_FACTOR,
  PREHEAT_SECONDS,
} from './judgements'

/** Dwell of the pierce: 2 s on 12.7 mm. @source Martin, Penn State Altoona, ASME MSEC 2021 (read). */
const PIERCE_S_PER_M = 2 / 0.0127

/**
 * How much longer than flat and clean a cut takes.
 *
 * @returns scalar from 1 to 1.8
 * @source judgement: `POSITION_TIME`, `CONDITION_TIME`
 */
export function timeMultiplier(cut: Pick<CutInput, 'position' | 'conditions'>): number {
  const conditions = new Set(cut.conditions ?? [])
  const product = [...conditions].reduce(
    (sum, condition) => sum * CONDITION_TIME[condition],
    POSITION_TIME[cut.position ?? 'flat'],
  )
  return Math.min(MAX_TIME_MULTIPLIER, product)
}

/**
 * What oxygen below 99.5 % does to speed and use.
 *
 * @param purityPct 98.5 to 100
 * @returns factors on cutting time and on cutting oxygen per length
 * @source at 98.5 %: speed down 15 %, use up 25 % (course notes repeating a welding handbook, read); linear
 *   between is an assumption
 */
export function purityFactors(purityPct: number): { time: number; oxygenPerLength: number } {
  const shortfall = Math.max(0, PURITY_PCT.normal - purityPct)
  return { time: 1 / (1 - 0.15 * shortfall), oxygenPerLength: 1 + 0.25 * shortfall }
}

/**
 * Seconds of preheat and of pierce for one start.
 *
 * @param start path through the metal (m), fuel, and whether it pierces or starts at an edge
 * @returns preheatS with the cutting oxygen off, pierceS with it on
 * @source preheat: `PREHEAT_SECONDS` (common practice); pierce: 2 s on 12.7 mm (read), in proportion
 */
export function startTimes(start: { pathM: number; fuel: FuelCode; pierced: boolean }): {
  preheatS: number
  pierceS: number
} {
  const preheatS =
    interpolateHeld(PREHEAT_SECONDS, start.pathM * 1000) * PREHEAT_FUEL_FACTOR[start.fuel]
  if (!start.pierced) return { preheatS: preheatS * EDGE_START_SHARE, pierceS: 0 }
  return { preheatS, pierceS: start.pathM * PIERCE_S_PER_M }
}

/** Adds times up. */
export function addTimes(times: readonly CutTime[]): CutTime {
  return times.reduce(
    (sum, time) => ({
      cuttingS: sum.cuttingS + time.cuttingS,
      startS: sum.startS + time.startS,
      idleS: sum.idleS + time.idleS,
    }),
    { cuttingS: 0, startS: 0, idleS: 0 },
  )
}
