import { type Demand, demandCdf, demandQuantiles } from './demand'
import { FORECAST_PROBABILITIES } from './forecast-types'
import { coveredBound } from './learned-demand'

/** Demand from now to the end of a day, in cylinders. */
export type DemandToDay = Readonly<{ mean: number; variance: number }>

const countOf = ({ mean, variance }: DemandToDay): Demand => ({ mean, variance, kind: 'count' })

/**
 * What a plan has to have brought by each day: the high end of use, less what hangs open already.
 *
 * @param days demand to the end of each day
 * @param service chance with which it is enough
 * @param score of its class of demand at that chance, where past misses are known
 * @param openCylinders what is left in cylinders that are not full, in whole-cylinder equivalents
 * @returns whole cylinders used in the mean, and to have had, by day; neither ever falls
 */
export function coverByDay(
  days: readonly DemandToDay[],
  asked: { service: number; openCylinders: number; score?: number | null },
): { used: number[]; cover: number[] } {
  const { service, openCylinders, score = null } = asked
  let most = 0
  const cover = days.map((day) => {
    const high = coveredBound(day, { service, score })
    most = Math.max(most, Math.ceil(high - openCylinders - 1e-9))
    return most
  })
  const used = days.map((day) => Math.max(0, Math.floor(day.mean - openCylinders + 1e-9)))
  return { used, cover }
}

/**
 * Chance of being short by the end of each day.
 *
 * @param days demand to the end of each day
 * @param available cylinders at hand until then, deliveries counted
 * @returns 0 to 1 by day, the highest until then
 */
export function chanceOutByDay(
  days: readonly DemandToDay[],
  available: readonly number[],
): number[] {
  let highest = 0
  return days.map((day, i) => {
    highest = Math.max(highest, 1 - demandCdf(countOf(day), Math.max(0, available[i] ?? 0)))
    return highest
  })
}

/** The first day, from 0, on which a chance is reached; null where it never is. */
export function dayOfChance(chances: readonly number[], chance: number): number | null {
  const day = chances.findIndex((one) => one >= chance)
  return day < 0 ? null : day
}

/**
 * When it runs out, at 5, 27.5, 50, 72.5 and 95 %: within the day on which the chance of being short passes each,
 * straight between that day's ends; today from now on.
 *
 * @param chances by day, never falling, as of `chanceOutByDay`
 * @param gone part of today that is past, 0 to 1
 * @returns days from the start of day 0, and a part of a day; null past the last
 */
export function outDayQuantiles(chances: readonly number[], gone = 0): (number | null)[] {
  return FORECAST_PROBABILITIES.map((probability) => {
    const day = dayOfChance(chances, probability)
    if (day === null) return null
    const before = chances[day - 1] ?? 0
    const rise = (chances[day] ?? 0) - before
    const within = rise > 0 ? (probability - before) / rise : 0
    return day === 0 ? gone + within * (1 - gone) : day + within
  })
}

/**
 * What is left at the end of each day, at 5, 27.5, 50, 72.5 and 95 %.
 *
 * @returns lowest first; nothing is left below nought
 */
export function leftByDay(days: readonly DemandToDay[], available: readonly number[]): number[][] {
  return days.map((day, i) =>
    demandQuantiles(countOf(day), FORECAST_PROBABILITIES)
      .toReversed()
      .map((used) => Math.max(0, (available[i] ?? 0) - used)),
  )
}

/**
 * Demand of one size, where a gas is counted in another.
 *
 * @param days demand to the end of each day, in the size that is counted in
 * @param cylinders of this size for one of those: its share of the gas by what each holds
 * @returns demand by day; a share that falls to chance is a thinned count, so its spread is more than its part
 */
export function demandOfSize(days: readonly DemandToDay[], cylinders: number): DemandToDay[] {
  return days.map(({ mean, variance }) => ({
    mean: cylinders * mean,
    variance: cylinders ** 2 * variance + Math.max(0, cylinders * (1 - cylinders)) * mean,
  }))
}

/**
 * Each size's share of a gas as it was used, as cylinders of it for one of the size that is counted in.
 *
 * @param sizes usable gas of one in any unit, and how many came off empty; the first is counted in
 * @returns in order; all is the first's where none came off yet
 */
export function sizeShares(
  sizes: readonly Readonly<{ usableKg: number; emptied: number }>[],
): number[] {
  const [first] = sizes
  const gas = sizes.map(({ usableKg, emptied }) => usableKg * emptied)
  const all = gas.reduce((sum, one) => sum + one, 0)
  if (!first || all === 0) return sizes.map((_, at) => (at === 0 ? 1 : 0))
  return sizes.map(({ usableKg }, at) => ((gas[at] ?? 0) / all) * (first.usableKg / usableKg))
}

/**
 * Demand with one more piece of work in it.
 *
 * @param days demand to the end of each day
 * @param work cylinders it takes in all, first and last day from 0, and the spread of that estimate
 * @returns demand by day; the work is spread evenly over its days, what is estimated wrong is wrong on all
 */
export function withMoreWork(
  days: readonly DemandToDay[],
  work: { cylinders: number; fromDay: number; toDay: number; relativeSpread: number },
): DemandToDay[] {
  const length = work.toDay - work.fromDay + 1
  return days.map((day, i) => {
    const share = Math.min(1, Math.max(0, (i - work.fromDay + 1) / length))
    const mean = work.cylinders * share
    return {
      mean: day.mean + mean,
      variance: day.variance + (work.relativeSpread * mean) ** 2 + mean,
    }
  })
}
