import { checkLpgOutdoors } from './amounts'
import type { StoreFinding } from './finding'
import { type Barrier, checkPlace, type StorePlace } from './storage'

/** What somebody measured and saw at a store. Feet; null where nobody measured. */
export interface StoreAnswers
  extends Omit<StorePlace, 'isIndoors' | 'dropPartOfHeight' | 'holdsFuelGas'> {
  oxygenFuelFt: number | null
  barrier: Barrier | null
  isInGasCabinets: boolean
  couldFall: boolean
  /** Of LP-gas outdoors. */
  lpgBuildingFt: number | null
  lpgDoorFt: number | null
  lpgCombustiblesFt: number | null
  hasSingleExit: boolean
  extinguisherRatingB: number
  /** The fire official's operational permit for this much gas. */
  firePermitNo: string | null
}

/** Answers hold so long, and end when the area's own facts change. House judgement, no source. */
export const ANSWER_DAYS = 90

const WHOLE_HEIGHT = 1

/**
 * What the answers say of the place: nothing where nobody answered.
 *
 * @source by `checkPlace` and `checkLpgOutdoors`, each with its own
 */
export function placeFindings(
  answers: StoreAnswers,
  what: Readonly<{ isIndoors: boolean; holdsFuelGas: boolean; lpgLb: number }>,
): StoreFinding[] {
  const { couldFall, lpgBuildingFt, lpgDoorFt, lpgCombustiblesFt } = answers
  return [
    ...checkPlace({
      ...answers,
      isIndoors: what.isIndoors,
      holdsFuelGas: what.holdsFuelGas,
      dropPartOfHeight: couldFall ? WHOLE_HEIGHT : 0,
    }),
    ...(what.lpgLb > 0 && !what.isIndoors
      ? checkLpgOutdoors({
          lpgLb: what.lpgLb,
          buildingFt: lpgBuildingFt,
          doorFt: lpgDoorFt,
          hasSingleExit: answers.hasSingleExit,
          combustiblesFt: lpgCombustiblesFt,
          dispensersFt: null,
          extinguisherRatingB: answers.extinguisherRatingB,
        })
      : []),
  ]
}
