import type { CutCondition, CutInput } from './estimate-types'
import type { FuelCode } from './gas-data'
import { type HeldCurve, heldCurve, valueOn } from './held-curve'
import {
  type Judged,
  PREHEAT_FUEL_FACTOR,
  PREHEAT_SECONDS,
  positionTimes,
  SLOWS_STARTS,
} from './judgements'

/** Normal and least oxygen purity. @source 99.5 and 95 %: course notes repeating a welding handbook (read). */
export const PURITY_PCT = { min: 95, published: 98.5, normal: 99.5, max: 100 } as const

/** Dwell of the pierce: 2 s on 12.7 mm. @source Martin, Penn State Altoona, ASME MSEC 2021 (read). */
const PIERCE_S_PER_M = 2 / 0.0127
/** Seconds by millimetres, with acetylene. */
export const PREHEAT: HeldCurve = heldCurve(PREHEAT_SECONDS)

/**
 * How much longer than flat and clean a cut takes.
 *
 * @param cut its position and conditions; each condition counts once
 * @param judged multipliers in use
 * @returns scalar from 1 to `judged.mostTimes`
 * @source judgement: `JUDGEMENTS`
 */
export function timeMultiplier(
  cut: Pick<CutInput, 'position' | 'conditions'>,
  judged: Judged,
): number {
  const { position, conditions } = cut
  const placed = position === undefined ? 1 : positionTimes(position, judged)
  if (conditions === undefined) return Math.min(judged.mostTimes, placed)
  return Math.min(judged.mostTimes, placed * conditionTimes(conditions, judged, false))
}

/** How much longer each start takes on a bad surface, on cold steel and in wind; bounded like the cut. */
export function startMultiplier(cut: Pick<CutInput, 'conditions'>, judged: Judged): number {
  const { conditions } = cut
  if (conditions === undefined) return 1
  return Math.min(judged.mostTimes, conditionTimes(conditions, judged, true))
}

/** Product of the conditions' multipliers, one named twice counting once. */
function conditionTimes(
  conditions: readonly CutCondition[],
  judged: Judged,
  startsOnly: boolean,
): number {
  let product = 1
  for (let i = 0; i < conditions.length; i += 1) {
    const condition = conditions[i] as CutCondition
    const slowsStarts = SLOWS_STARTS[condition]
    if (slowsStarts === undefined || (startsOnly && !slowsStarts)) continue
    if (conditions.indexOf(condition) === i) product *= judged[condition]
  }
  return product
}

/**
 * What oxygen below 99.5 % does to speed and use.
 *
 * @param purityPct 95 to 100
 * @returns factors on cutting time and on cutting oxygen per length
 * @source at 98.5 %: speed down 15 %, use up 25 % (course notes repeating a welding handbook, read); linear
 *   between is an assumption, and so is the same slope below, down to 95 % where the cut fails (read)
 */
export function purityFactors(purityPct: number): { time: number; oxygenPerLength: number } {
  const shortfall = Math.max(0, PURITY_PCT.normal - purityPct)
  return { time: 1 / (1 - 0.15 * shortfall), oxygenPerLength: 1 + 0.25 * shortfall }
}

/**
 * Seconds of preheat, cutting oxygen off, until the metal burns where the cut would pierce.
 *
 * @source `PREHEAT_SECONDS`, `PREHEAT_FUEL_FACTOR`: common practice
 */
export function preheatSeconds(pathM: number, fuel: FuelCode): number {
  return valueOn(PREHEAT, pathM * 1000) * PREHEAT_FUEL_FACTOR[fuel]
}

/** Seconds of the pierce, cutting oxygen on. @source 2 s on 12.7 mm (read), in proportion. */
export function pierceSeconds(pathM: number): number {
  return pathM * PIERCE_S_PER_M
}
