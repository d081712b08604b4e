import { numberRefusals, type Outcome } from './check-numbers'
import type { GasCode } from './gas-data'
import { input, type Measured, measure } from './measured'
import { refuse } from './refusal'
import { rectangular } from './stats'
import { SPECIFIC_VOLUME, SPECIFIC_VOLUME_ID, type VolumeBase } from './tables/specific-volume'
import { UNITS } from './units'

/** Common practice, no source: how far apart published figures for one base lie. */
const FIGURE_TOLERANCE = 0.005

type BaseInput = { gas: GasCode; base: VolumeBase }

/**
 * Volume of a mass of gas at the base where a book or a supplier measures it.
 *
 * @param input gas, gasKg >= 0 with its standard uncertainty, base temperature
 * @returns m³ at 1 atm and that temperature; or a refusal where no figure was published
 * @remarks 15 lb of acetylene are 204, 217 or 221 ft³ by base: never mix them.
 * @source `tables/specific-volume`
 */
export function gasVolumeAtBase(
  known: BaseInput & { gasKg: number; standardUncertaintyKg?: number },
): Outcome<{ volumeM3: Measured }> {
  const volume = m3PerKg(known)
  if (!volume.ok) return volume
  const refusals = numberRefusals({
    gasKg: [known.gasKg, { min: 0, unit: 'kg' }],
    standardUncertaintyKg: [known.standardUncertaintyKg, { min: 0, unit: 'kg' }],
  })
  if (refusals.length > 0) return refuse(refusals)
  const volumeM3 = measure({
    formulaCode: 'gasVolumeAtBase',
    unit: 'm³',
    min: 0,
    tableId: SPECIFIC_VOLUME_ID,
    inputs: {
      gasKg: input(known.gasKg, 'kg', { u: known.standardUncertaintyKg ?? 0 }),
      m3PerKg: volume.figure,
    },
    of: (at) => at.gasKg * at.m3PerKg,
  })
  return { ok: true, volumeM3 }
}

/**
 * Mass of gas whose volume is stated at a base: the inverse of `gasVolumeAtBase`.
 *
 * @param input gas, volumeM3 >= 0, base temperature
 * @returns kg; or a refusal where no figure was published
 * @source `tables/specific-volume`
 */
export function gasMassFromBase(
  known: BaseInput & { volumeM3: number },
): Outcome<{ gasKg: Measured }> {
  const volume = m3PerKg(known)
  if (!volume.ok) return volume
  const refusals = numberRefusals({ volumeM3: [known.volumeM3, { min: 0, unit: 'm³' }] })
  if (refusals.length > 0) return refuse(refusals)
  const gasKg = measure({
    formulaCode: 'gasMassFromBase',
    unit: 'kg',
    min: 0,
    tableId: SPECIFIC_VOLUME_ID,
    inputs: { volumeM3: input(known.volumeM3, 'm³'), m3PerKg: volume.figure },
    of: (at) => at.volumeM3 / at.m3PerKg,
  })
  return { ok: true, gasKg }
}

function m3PerKg({ gas, base }: BaseInput): Outcome<{ figure: ReturnType<typeof input> }> {
  const { ft3PerLb, provenance } = SPECIFIC_VOLUME[gas]
  const figure = ft3PerLb[base]
  if (figure === undefined) {
    const limit = { allowed: Object.keys(ft3PerLb) }
    return refuse([{ code: 'NO_PUBLISHED_FIGURE', field: 'base', value: base, limit }])
  }
  const value = (figure * UNITS.ft3.toBase) / UNITS.lb.toBase
  const u = rectangular(FIGURE_TOLERANCE * value)
  return { ok: true, figure: input(value, 'm³/kg', { u, provenance }) }
}
