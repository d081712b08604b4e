import { numberRefusals, type Outcome } from './check-numbers'
import { type FuelCode, GASES } from './gas-data'
import { type Input, input, type Measured, measure } from './measured'
import { refuse } from './refusal'
import { rectangular } from './stats'
import { FLAME_HEAT, FLAME_HEAT_ID } from './tables/flame-heat'

/**
 * Oxygen that the torch gives for a volume of fuel, as an input with its spread.
 *
 * @param fuel the fuel
 * @param own the user's own ratio, taken as it is
 * @returns volumes of oxygen per volume of fuel
 * @source `GASES.preheatOxygenRatio`: the middle of the published span, rectangular over it
 */
export function torchOxygenRatio(fuel: FuelCode, own?: number): Input {
  if (own !== undefined) return input(own, '1', { min: 0 })
  const { preheatOxygenRatio, preheatRatioProvenance } = GASES[fuel]
  const [low, high] = preheatOxygenRatio ?? [0, 0]
  return input((low + high) / 2, '1', {
    u: rectangular((high - low) / 2),
    provenance: preheatRatioProvenance ?? 'common practice',
    min: 0,
  })
}

/**
 * Oxygen for a volume of fuel: to burn it whole, and what the torch gives while the air gives the rest.
 *
 * @param known fuel, its volume (m³, any base that both share), the size of the oxygen cylinders to count (m³)
 * @returns m³ of oxygen, and whole cylinders for complete burning where a size was given
 * @source stoichiometry: acetylene 2.5, propane 5, methane 2, propylene 4.5; MPS about 4, from memory
 */
export function combustionOxygen(known: {
  fuel: FuelCode
  fuelM3: number
  oxygenCylinderM3?: number
}): Outcome<{ completeM3: Measured; torchM3: Measured; cylinders: number | null }> {
  const refusals = numberRefusals({
    fuelM3: [known.fuelM3, { min: 0, unit: 'm³' }],
    oxygenCylinderM3: [known.oxygenCylinderM3, { above: 0, unit: 'm³' }],
  })
  if (refusals.length > 0) return refuse(refusals)
  const { fuel } = known
  const fuelM3 = input(known.fuelM3, 'm³')
  const complete = GASES[fuel].oxygenForCompleteCombustion ?? 0
  const of = (at: { fuelM3: number; ratio: number }) => at.fuelM3 * at.ratio
  const provenance = fuel === 'mps' ? 'from memory' : 'derived'
  const completeM3 = measure({
    formulaCode: 'combustionOxygen',
    unit: 'm³',
    min: 0,
    inputs: { fuelM3, ratio: input(complete, '1', { provenance }) },
    of,
  })
  return {
    ok: true,
    completeM3,
    torchM3: measure({
      formulaCode: 'torchOxygen',
      unit: 'm³',
      min: 0,
      inputs: { fuelM3, ratio: torchOxygenRatio(fuel) },
      of,
    }),
    cylinders:
      known.oxygenCylinderM3 === undefined
        ? null
        : Math.ceil(completeM3.mean / known.oxygenCylinderM3 - 1e-9),
  }
}

/** Net heat of a fuel by volume at 70 °F and 1 atm, J/m³, or the user's own figure. */
export function netHeatJPerM3(fuel: FuelCode, own?: number): Input {
  if (own !== undefined) return input(own, 'J/m³', { min: 0 })
  const { netMjPerKg, relativeUncertainty, provenance } = FLAME_HEAT[fuel]
  const value = netMjPerKg * 1e6 * GASES[fuel].densityKgPerM3
  return input(value, 'J/m³', { u: relativeUncertainty * value, provenance, min: 0 })
}

/** Published textbook cases: 0.2 (from memory) and 0.3 (read) of an oxyacetylene flame's heat enter the work. */
export const TRANSFER_SHARE = { value: 0.25, halfWidth: 0.1 } as const

/** The part of the flame's heat that enters the work, or the user's own. */
export function transferShareOf(own?: number): Input {
  if (own !== undefined) return input(own, '1', { min: 0.01, max: 1 })
  const { value, halfWidth } = TRANSFER_SHARE
  return input(value, '1', {
    u: rectangular(halfWidth),
    provenance: 'from memory',
    min: 0.01,
    max: 1,
  })
}

export type FlameHeatInput = {
  fuel: FuelCode
  fuelM3PerS: number
  heatJPerM3?: number
  transferShare?: number
  /** A spot and the part of the work's heat that falls on it. */
  spot?: { diameterM: number; share: number }
}

/**
 * Heat of a flame, what of it enters the work, and how dense it is on a spot.
 *
 * @param known fuel and its flow (m³/s at 70 °F and 1 atm); heat value and shares where they are known better
 * @returns W and W/m² with uncertainty; or refusals
 * @source `tables/flame-heat`; share into the work `TRANSFER_SHARE`
 */
export function flameHeat(known: FlameHeatInput): Outcome<{
  heatW: Measured
  intoWorkW: Measured
  onSpotWPerM2: Measured | null
}> {
  const refusals = numberRefusals({
    fuelM3PerS: [known.fuelM3PerS, { min: 0, max: 1, unit: 'm3/s' }],
    heatJPerM3: [known.heatJPerM3, { above: 0, unit: 'J/m³' }],
    transferShare: [known.transferShare, { min: 0.01, max: 1 }],
    'spot.diameterM': [known.spot?.diameterM, { above: 0, unit: 'm' }],
    'spot.share': [known.spot?.share, { min: 0, max: 1 }],
  })
  if (refusals.length > 0) return refuse(refusals)
  const fuelM3PerS = input(known.fuelM3PerS, 'm³/s')
  const heatJPerM3 = netHeatJPerM3(known.fuel, known.heatJPerM3)
  const transferShare = transferShareOf(known.transferShare)
  const heat = { fuelM3PerS, heatJPerM3 }
  const work = { ...heat, transferShare }
  const shared = { min: 0, tableId: FLAME_HEAT_ID } as const
  const { spot } = known
  return {
    ok: true,
    heatW: measure({
      ...shared,
      formulaCode: 'flameHeat',
      unit: 'W',
      inputs: heat,
      of: (at) => at.fuelM3PerS * at.heatJPerM3,
    }),
    intoWorkW: measure({
      ...shared,
      formulaCode: 'flameHeatIntoWork',
      unit: 'W',
      inputs: work,
      of: (at) => at.fuelM3PerS * at.heatJPerM3 * at.transferShare,
    }),
    onSpotWPerM2: spot
      ? measure({
          ...shared,
          formulaCode: 'flameHeatOnSpot',
          unit: 'W/m²',
          inputs: {
            ...work,
            spotShare: input(spot.share, '1'),
            diameterM: input(spot.diameterM, 'm'),
          },
          of: (at) =>
            (at.fuelM3PerS * at.heatJPerM3 * at.transferShare * at.spotShare) /
            ((Math.PI / 4) * at.diameterM ** 2),
        })
      : null,
  }
}
