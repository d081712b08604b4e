import { CalcError } from './errors'

export type UnplannedInput = {
  /** Cylinders taken off empty per day, oldest first; whole numbers. */
  emptiedPerDay: readonly number[]
  /** What the estimates of the jobs that ran put on those days, in cylinders. */
  plannedPerDay: readonly number[]
}

/**
 * Cylinders emptied beyond what was planned, day by day, for the forecast's baseline: counting
 * all of them would count planned work twice.
 *
 * A cylinder is emptied days after its first cut, so the running totals are compared, not the
 * days: a day counts only by how far the total emptied has passed the total planned before.
 *
 * @returns whole cylinders per day, none negative, as long as the input
 * @throws {CalcError} OUT_OF_RANGE where the two are of different length or a value is negative
 * @source methods of this library: usage less factor × estimate, floored at 0
 */
export function unplannedCounts({ emptiedPerDay, plannedPerDay }: UnplannedInput): number[] {
  if (emptiedPerDay.length !== plannedPerDay.length)
    throw new CalcError('OUT_OF_RANGE', 'plannedPerDay', plannedPerDay.length)
  const state = { emptied: 0, planned: 0, counted: 0 }
  return emptiedPerDay.map((emptied, day) => {
    const planned = plannedPerDay[day] ?? 0
    if (!(emptied >= 0) || !(planned >= 0))
      throw new CalcError('OUT_OF_RANGE', 'emptiedPerDay', emptied)
    state.emptied += emptied
    state.planned += planned
    const beyond = Math.max(0, Math.floor(state.emptied - state.planned) - state.counted)
    state.counted += beyond
    return beyond
  })
}
