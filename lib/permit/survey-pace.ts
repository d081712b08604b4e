/** Looking at one thing and answering for it. @source common practice, no source */
const SECONDS_AN_ITEM = 5
/** Down or up a ladder to another level, and back. @source common practice, no source */
const SECONDS_A_LEVEL = 30
/** A grown person walking at ease, m/s. From memory: 1.4 is the usual figure; check before relying on it. */
const WALK_M_PER_S = 1.4
/** Once around the work at 35 ft (10.668 m). */
const ONCE_AROUND_M = 2 * Math.PI * 35 * 0.3048

export interface SurveyPace {
  tookS: number
  /** The least in which so many things can be looked at and the limit walked once around. */
  leastS: number
  /** Answered faster than it can be walked: kept, and flagged on the record. */
  isTooFast: boolean
}

/**
 * How fast a survey was answered beside how fast it can be walked, by the times at which the database
 * took its answers.
 *
 * @param answeredAt every answer of one survey, those that were corrected included; in any order
 * @param items how many things the area asks
 * @param otherLevels how many levels besides that of the work the drawing shows
 * @returns null where fewer than two answers say anything about a pace
 */
export function surveyPace(input: {
  answeredAt: readonly Date[]
  items: number
  otherLevels: number
}): SurveyPace | null {
  const times = input.answeredAt.map((at) => at.getTime())
  if (times.length < 2) return null
  const tookS = Math.round((Math.max(...times) - Math.min(...times)) / 1000)
  // The first answer's own look was before it was given.
  const looks = Math.max(0, input.items - 1) * SECONDS_AN_ITEM
  const leastS = Math.ceil(
    looks + ONCE_AROUND_M / WALK_M_PER_S + input.otherLevels * SECONDS_A_LEVEL,
  )
  return { tookS, leastS, isTooFast: tookS < leastS }
}
