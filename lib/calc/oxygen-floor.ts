import { requireNumber } from './errors'
import { heldCurve, valueOn } from './held-curve'
import { KERF_LOW_MM } from './judgements'
import { gasKgFromM3 } from './units'

/** Narrow edge of usual kerfs, mm by mm of thickness. */
export const KERF_LOW = heldCurve(KERF_LOW_MM)

/** Litres of oxygen (70 °F, 1 atm) per metre of cut and mm² of kerf when iron burns to FeO. */
export const LITRES_PER_M_MM2_FEO = 1.6959
/** The part of the kerf that burns at least; handbooks say 30 to 40 % leaves as metal (from memory). */
export const BURNT_SHARE = 0.6

/**
 * Least oxygen that burning the kerf takes: no estimate goes below it.
 *
 * @param cut lengthM >= 0 and pathM > 0, the thickness along the cut
 * @returns scalar, kg
 * @throws {CalcError} OUT_OF_RANGE
 * @remarks FeO and 60 % burnt. Fe3O4 with everything burnt is typical of thick work, and no floor.
 * @source stoichiometry: Fe 55.845, O2 31.998, steel 7850 kg/m³; kerf at the narrow edge of common practice.
 * @example oxygenFloorKg({ lengthM: 1, pathM: 0.0127 }) // 1.5 mm kerf: 19.6 L, 0.026 kg
 */
export function oxygenFloorKg(cut: { lengthM: number; pathM: number }): number {
  requireNumber('lengthM', cut.lengthM, { min: 0 })
  requireNumber('pathM', cut.pathM, { above: 0 })
  return checkedFloorKg(cut.lengthM, cut.pathM, narrowKerfMm(cut.pathM))
}

/** Narrow edge of usual kerfs at a path through the metal, mm. @source common practice: `KERF_LOW_MM` */
export function narrowKerfMm(pathM: number): number {
  return valueOn(KERF_LOW, pathM * 1000)
}

const FLOOR_KG_PER_M2_MM = gasKgFromM3('oxygen', (LITRES_PER_M_MM2_FEO * BURNT_SHARE) / 1000) * 1000

/** The same for numbers that were checked before: the inside of a long loop. */
export function checkedFloorKg(lengthM: number, pathM: number, kerfMm: number): number {
  return FLOOR_KG_PER_M2_MM * lengthM * pathM * kerfMm
}
