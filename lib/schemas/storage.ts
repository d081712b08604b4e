import { z } from 'zod'
import type { StoreAnswers } from '../rules/store-answers'
import { clientKey, idField, optionalText } from './fields'
import { emptyIsAbsent, ticked, typedNumber } from './measure'

const MOST_FT = 10_000
const feet = emptyIsAbsent(
  typedNumber.refine((value) => value >= 0, 'NEGATIVE').refine((n) => n <= MOST_FT, 'TOO_LARGE'),
).transform((value) => value ?? null)
const number = emptyIsAbsent(typedNumber).transform((value) => value ?? null)

/** What somebody measured and saw at a store, as the form asks it: an empty box is not measured. */
export const storageAnswersSchema = z
  .object({
    key: clientKey,
    areaId: idField,
    oxygenFuelFt: feet,
    hasBarrier: ticked,
    isNoncombustible: ticked,
    barrierRatingMin: number,
    barrierHeightFt: feet,
    barrierAboveFt: feet,
    barrierBesideFt: feet,
    isInGasCabinets: ticked,
    isVentilated: ticked,
    isDry: ticked,
    isLocker: ticked,
    isAwayFromHeatAndExits: ticked,
    isSafeFromTampering: ticked,
    highlyCombustibleFt: feet,
    vegetationFt: feet,
    noSmokingSignsWithinFt: feet,
    couldFall: ticked,
    hottestF: number,
    lpgBuildingFt: feet,
    lpgDoorFt: feet,
    lpgCombustiblesFt: feet,
    hasSingleExit: ticked,
    extinguisherRatingB: number,
    firePermitNo: optionalText(40),
  })
  .transform(({ key, areaId, hasBarrier, isNoncombustible, ...typed }) => {
    const { barrierRatingMin, barrierHeightFt, barrierAboveFt, barrierBesideFt, ...rest } = typed
    const answers: StoreAnswers = {
      ...rest,
      extinguisherRatingB: rest.extinguisherRatingB ?? 0,
      barrier: hasBarrier
        ? {
            isNoncombustible,
            ratingMin: barrierRatingMin ?? 0,
            heightFt: barrierHeightFt ?? 0,
            aboveFt: barrierAboveFt,
            besideFt: barrierBesideFt,
          }
        : null,
    }
    return { key, areaId, answers }
  })
export type StorageAnswersInput = z.output<typeof storageAnswersSchema>
