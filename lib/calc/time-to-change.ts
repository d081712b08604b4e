import normalQuantile from '@stdlib/stats-base-dists-normal-quantile'
import { requireNumber } from './errors'
import type { Interval90 } from './source'
import { quadrature } from './stats'

export type TimeToChangeInput = {
  contentsKg: number
  contentsStandardUncertaintyKg: number
  /** Left in the cylinder when it is changed. */
  reserveKg: number
  /** What the cuts still to do take, and the time that they take. */
  needKg: number
  needStandardUncertaintyKg: number
  needS: number
}

export type TimeToChange = {
  /** Seconds from now; `null` where the draw is so uncertain that no time can be named. */
  low90S: number
  middleS: number
  high90S: number | null
  /** Gas lacking for the cuts still to do; zero when there is enough. */
  shortKg: Interval90
}

/** Chances at which `timeToChangeAt` is drawn as teeth. */
const LOW = 0.05
const MIDDLE = 0.5
const HIGH = 0.95

/**
 * When a cylinder comes down to the contents at which it is changed, while the cuts left burn their
 * estimated gas evenly over their estimated time.
 *
 * @param input masses in kg, time in s; needKg and needS > 0
 * @returns 5 %, 50 % and 95 % quantiles in s, and what is short in kg
 * @throws {CalcError} NOT_FINITE or OUT_OF_RANGE
 * @source Fieller, J. R. Stat. Soc. B 16 (1954) 175, for a ratio of two independent normal quantities
 *   (from memory); that the torch burns evenly is common practice, no source.
 */
export function timeToChange(input: TimeToChangeInput): TimeToChange {
  const missing = input.needKg - (input.contentsKg - input.reserveKg)
  const standardUncertainty = quadrature([
    input.needStandardUncertaintyKg,
    input.contentsStandardUncertaintyKg,
  ])
  const short = (chance: number) =>
    Math.max(0, missing + normalQuantile(chance, 0, 1) * standardUncertainty)
  return {
    low90S: timeToChangeAt(input, LOW) ?? 0,
    middleS: timeToChangeAt(input, MIDDLE) ?? 0,
    high90S: timeToChangeAt(input, HIGH),
    shortKg: {
      mean: Math.max(0, missing),
      standardUncertainty,
      low90: short(LOW),
      high90: short(HIGH),
    },
  }
}

/**
 * The time by which the change has come with the given chance: the root t of
 * (r t − U)² = z² (u(U)² + t² u(r)²) on the side of z, with U the gas above the reserve and r the draw.
 *
 * @param chance scalar inside 0 and 1
 * @returns s, never below zero; null when the draw may be nothing at that chance
 */
export function timeToChangeAt(input: TimeToChangeInput, chance: number): number | null {
  check(input, chance)
  const usableKg = input.contentsKg - input.reserveKg
  const drawKgPerS = input.needKg / input.needS
  const drawUKgPerS = input.needStandardUncertaintyKg / input.needS
  const z = normalQuantile(chance, 0, 1)
  const a = drawKgPerS ** 2 - (z * drawUKgPerS) ** 2
  if (a <= 0) return z > 0 ? null : 0
  const half = drawKgPerS * usableKg
  const c = usableKg ** 2 - (z * input.contentsStandardUncertaintyKg) ** 2
  const root = Math.sqrt(Math.max(0, half * half - a * c))
  return Math.max(0, (half + Math.sign(z) * root) / a)
}

function check(input: TimeToChangeInput, chance: number): void {
  requireNumber('contentsKg', input.contentsKg, { min: 0 })
  requireNumber('contentsStandardUncertaintyKg', input.contentsStandardUncertaintyKg, { min: 0 })
  requireNumber('reserveKg', input.reserveKg, { min: 0 })
  requireNumber('needKg', input.needKg, { above: 0 })
  requireNumber('needStandardUncertaintyKg', input.needStandardUncertaintyKg, { min: 0 })
  requireNumber('needS', input.needS, { above: 0 })
  requireNumber('chance', chance, { above: 0, max: 1 - Number.EPSILON })
}
