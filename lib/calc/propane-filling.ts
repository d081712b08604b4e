import { numberRefusals, type Outcome } from './check-numbers'
import { input, type Measured, measure } from './measured'
import { refuse } from './refusal'
import { FILLING_DENSITY, FILLING_DENSITY_ID } from './tables/propane-saturation'

/** Commercial propane at 60 °F. @source filling density 42 % belongs to 0.504 to 0.510. */
const SPECIFIC_GRAVITY = 0.508

/**
 * How much LP-gas a container may hold, by mass.
 *
 * @param input waterCapacityKg > 0; specific gravity of the liquid at 60 °F, 0.496 to 0.600
 * @returns kg, and the filling density used; or refusals
 * @remarks The rated contents already leave room to expand: never take 80 % of them again.
 * @source WAC 296-307-41037 Table U-4, containers to 1,200 gal above ground (read)
 */
export function propaneCapacity(known: {
  waterCapacityKg: number
  specificGravity?: number
}): Outcome<{ capacityKg: Measured; fillingDensity: number }> {
  const specificGravity = known.specificGravity ?? SPECIFIC_GRAVITY
  const refusals = numberRefusals({
    waterCapacityKg: [known.waterCapacityKg, { above: 0, unit: 'kg' }],
    specificGravity: [specificGravity, { min: 0.496, max: 0.6 }],
  })
  if (refusals.length > 0) return refuse(refusals)
  const fillingDensity = fillingDensityAt(specificGravity)
  const capacityKg = measure({
    formulaCode: 'propaneCapacity',
    unit: 'kg',
    min: 0,
    tableId: FILLING_DENSITY_ID,
    inputs: {
      waterCapacityKg: input(known.waterCapacityKg, 'kg'),
      fillingDensity: input(fillingDensity, '1', { provenance: 'read' }),
    },
    of: (at) => at.waterCapacityKg * at.fillingDensity,
  })
  return { ok: true, capacityKg, fillingDensity }
}

/**
 * Volume of liquid LP-gas that a container may hold at the temperature of its liquid.
 *
 * @param input containerVolumeM3 > 0, specific gravity at 60 °F, and the liquid-volume factor for its temperature
 *   (volume at 60 °F over volume at that temperature), from the table that the filler uses
 * @returns m³ of liquid; or refusals
 * @source 29 CFR 1910.110(b)(19)(v), example (d) (read)
 */
export function propaneLiquidVolume(known: {
  containerVolumeM3: number
  specificGravity: number
  volumeFactor: number
}): Outcome<{ liquidM3: Measured }> {
  const refusals = numberRefusals({
    containerVolumeM3: [known.containerVolumeM3, { above: 0, unit: 'm³' }],
    specificGravity: [known.specificGravity, { min: 0.496, max: 0.6 }],
    volumeFactor: [known.volumeFactor, { min: 0.8, max: 1.2 }],
  })
  if (refusals.length > 0) return refuse(refusals)
  const liquidM3 = measure({
    formulaCode: 'propaneLiquidVolume',
    unit: 'm³',
    min: 0,
    tableId: FILLING_DENSITY_ID,
    inputs: {
      containerVolumeM3: input(known.containerVolumeM3, 'm³'),
      fillingDensity: input(fillingDensityAt(known.specificGravity), '1', { provenance: 'read' }),
      specificGravity: input(known.specificGravity, '1'),
      volumeFactor: input(known.volumeFactor, '1'),
    },
    of: (at) => (at.containerVolumeM3 * at.fillingDensity) / (at.specificGravity * at.volumeFactor),
  })
  return { ok: true, liquidM3 }
}

/** Between two printed ranges, such as 0.5105, the lower and safer share counts. */
function fillingDensityAt(specificGravity: number): number {
  const row = [...FILLING_DENSITY].reverse().find(([from]) => specificGravity >= from)
  return row?.[2] ?? 0.41
}
