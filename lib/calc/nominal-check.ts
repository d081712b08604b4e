import { numberRefusals, type Outcome } from './check-numbers'
import type { CylinderGasCode } from './gas-data'
import { input, type Measured, measure } from './measured'
import { refuse } from './refusal'
import { quadrature, rectangular } from './stats'
import { gasKgFromM3, gasM3FromKg } from './units'

export type NominalCheckInput = {
  gas: CylinderGasCode
  nominalM3: number
  emptyKg: number
  fullKg: number
  /** Standard uncertainty of each weighing. */
  weighingStandardUncertaintyKg?: number
}

export type NominalCheck = Outcome<{
  /** Contents that the two weights speak of, at 70 °F and 1 atm. */
  impliedM3: Measured
  agrees: boolean
}>

/** Common practice, no source: half a pound on a platform scale. */
const WEIGHING_U_KG = 0.23
/** Common practice, no source: a fill counted as full. */
const FILL_TOLERANCE = 0.05

/**
 * Whether a cylinder's weights empty and full can belong to its nominal contents.
 *
 * @param input gas, nominal contents (m³ at 70 °F and 1 atm), both weights (kg)
 * @returns the contents that the weights imply, and whether they agree within two standard uncertainties of weighing and filling
 * @remarks Catches a size typed wrongly, and a print of 1916 whose weights belong to the next smaller cylinder.
 * @source definition; densities of `gas-data`
 */
export function checkNominalByWeight(known: NominalCheckInput): NominalCheck {
  const refusals = numberRefusals({
    nominalM3: [known.nominalM3, { above: 0, unit: 'm³' }],
    emptyKg: [known.emptyKg, { above: 0, unit: 'kg' }],
    fullKg: [known.fullKg, { above: known.emptyKg, unit: 'kg' }],
    weighingStandardUncertaintyKg: [known.weighingStandardUncertaintyKg, { min: 0, unit: 'kg' }],
  })
  if (refusals.length > 0) return refuse(refusals)
  const u = known.weighingStandardUncertaintyKg ?? WEIGHING_U_KG
  const provenance =
    known.weighingStandardUncertaintyKg === undefined ? 'common practice' : 'entered'
  const impliedM3 = measure({
    formulaCode: 'nominalByWeight',
    unit: 'm³',
    min: 0,
    inputs: {
      emptyKg: input(known.emptyKg, 'kg', { u, provenance }),
      fullKg: input(known.fullKg, 'kg', { u, provenance }),
    },
    of: (at) => gasM3FromKg(known.gas, Math.max(0, at.fullKg - at.emptyKg)),
  })
  const nominalKg = gasKgFromM3(known.gas, known.nominalM3)
  const offKg = Math.abs(known.fullKg - known.emptyKg - nominalKg)
  const offU = quadrature([rectangular(FILL_TOLERANCE * nominalKg), u, u])
  return { ok: true, impliedM3, agrees: offKg <= 2 * offU }
}
