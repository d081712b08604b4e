import { emptyRuns, fillRuns, pieceKgOf, STEEL_KG_PER_M3 } from './cut-runs'
import type { CutInput } from './estimate-types'
import { materialOf } from './materials'

/** kg/m³ of a metal by its code; steel for a code that is not known. */
function densityOfMaterial(material: string): number {
  return materialOf(material)?.densityKgPerM3 ?? STEEL_KG_PER_M3
}

/**
 * Mass of what one cut brings down, whether or not a flame can cut it.
 *
 * @param cut with positive measures
 * @returns kg, or null when nothing was said of the piece or its section is not known
 * @source geometry and `MATERIALS`; named sections by nominal weight
 */
export function pieceWeightKg(cut: CutInput): number | null {
  const runs = emptyRuns()
  if (!fillRuns(cut, runs)) return null
  const kg = pieceKgOf(cut, runs, densityOfMaterial(cut.material))
  return Number.isFinite(kg) ? kg : null
}
