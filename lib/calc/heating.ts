import { numberRefusals, type Outcome } from './check-numbers'
import { netHeatJPerM3, torchOxygenRatio, transferShareOf } from './flame'
import { type FuelCode, standardDensityKgPerM3 } from './gas-data'
import { type Input, input, type Measured, measure } from './measured'
import { type Refusal, refuse } from './refusal'
import { FLAME_HEAT_ID } from './tables/flame-heat'
import { withdrawal } from './withdrawal'
import type { AcetyleneDrawOptionCode, DrawBasis, Withdrawal } from './withdrawal-types'

export type HeatingInput = {
  fuel: FuelCode
  burnS: number
  /** How much heat is wanted: a mass of steel and its rise, a heat rate into the work, or the head's own flow. */
  need:
    | { kind: 'steel'; massKg: number; riseK: number }
    | { kind: 'heat'; intoWorkW: number }
    | { kind: 'flow'; fuelM3PerS: number }
  /** The maker's ratio of oxygen to fuel, where it is known. */
  oxygenRatio?: number
  transferShare?: number
  /** The acetylene cylinders that feed the head; without them its draw is not judged. */
  supply?: {
    cylinders: number
    capacityKg: number
    remainingKg?: number
    option?: AcetyleneDrawOptionCode
    basis?: DrawBasis
    pattern?: 'intermittent' | 'continuous'
  }
}

export type Heating = Outcome<{
  fuelM3PerS: Measured
  oxygenM3PerS: Measured
  fuelKg: Measured
  oxygenKg: Measured
  /** Heat that enters the work, W. */
  intoWorkW: Measured
  withdrawal: Withdrawal | null
}>

/** Mean heat to warm carbon steel from room to about 650 °C, J/(kg K). From memory, within a tenth. */
const STEEL_J_PER_KG_K = 600
const STEEL_RELATIVE_U = 0.1
const MAX_RISE_K = 1200

type Flow = { inputs: Record<string, Input>; of: (at: Record<string, number>) => number }

/**
 * Gas for heating with a multi-flame head, by the heat wanted or by the head's own flow.
 *
 * @param known fuel, seconds of burning, what is wanted, and the cylinders that feed it
 * @returns flows (m³/s at 70 °F and 1 atm), masses (kg) and heat into the work with uncertainty; refused where the
 *   head would draw more acetylene than the cylinders may give: it would draw acetone
 * @remarks No table of heating-head flows could be read: take the head's flow from its maker.
 * @source heat of fuel: `tables/flame-heat`; share into the work: `TRANSFER_SHARE`; steel 0.6 kJ/(kg K) from memory;
 *   draw: `ACETYLENE_DRAW_OPTIONS`
 */
export function heatingGas(known: HeatingInput): Heating {
  const refusals = check(known)
  if (refusals.length > 0) return refuse(refusals)
  const flow = fuelFlowOf(known)
  const fuelM3PerS = measure({
    formulaCode: 'heatingFuelFlow',
    unit: 'm³/s',
    min: 0,
    tableId: FLAME_HEAT_ID,
    ...flow,
  })
  const draw = drawOf(known, fuelM3PerS.mean)
  if (!draw.ok) return draw
  return { ok: true, fuelM3PerS, withdrawal: draw.withdrawal, ...amounts(known, flow) }
}

function amounts(known: HeatingInput, flow: Flow) {
  const { fuel } = known
  const shared = { min: 0, tableId: FLAME_HEAT_ID } as const
  const ratio = torchOxygenRatio(fuel, known.oxygenRatio)
  const burnS = input(known.burnS, 's')
  const oxygen = standardDensityKgPerM3('oxygen')
  return {
    oxygenM3PerS: measure({
      ...shared,
      formulaCode: 'heatingOxygenFlow',
      unit: 'm³/s',
      inputs: { ...flow.inputs, oxygenRatio: ratio },
      of: (at) => flow.of(at) * (at.oxygenRatio ?? 0),
    }),
    fuelKg: measure({
      ...shared,
      formulaCode: 'heatingFuel',
      unit: 'kg',
      inputs: { ...flow.inputs, burnS },
      of: (at) => flow.of(at) * (at.burnS ?? 0) * standardDensityKgPerM3(fuel),
    }),
    oxygenKg: measure({
      ...shared,
      formulaCode: 'heatingOxygen',
      unit: 'kg',
      inputs: { ...flow.inputs, oxygenRatio: ratio, burnS },
      of: (at) => flow.of(at) * (at.oxygenRatio ?? 0) * (at.burnS ?? 0) * oxygen,
    }),
    intoWorkW: measure({
      ...shared,
      formulaCode: 'flameHeatIntoWork',
      unit: 'W',
      inputs: {
        ...flow.inputs,
        heatJPerM3: netHeatJPerM3(fuel),
        transferShare: transferShareOf(known.transferShare),
      },
      of: (at) => flow.of(at) * (at.heatJPerM3 ?? 0) * (at.transferShare ?? 0),
    }),
  }
}

function fuelFlowOf({ need, fuel, burnS, transferShare }: HeatingInput): Flow {
  if (need.kind === 'flow')
    return {
      inputs: { fuelM3PerS: input(need.fuelM3PerS, 'm³/s') },
      of: (at) => at.fuelM3PerS ?? 0,
    }
  const flame = {
    heatJPerM3: netHeatJPerM3(fuel),
    transferShare: transferShareOf(transferShare),
  }
  const perHeat = (at: Record<string, number>) => (at.heatJPerM3 ?? 1) * (at.transferShare ?? 1)
  if (need.kind === 'heat')
    return {
      inputs: { intoWorkW: input(need.intoWorkW, 'W'), ...flame },
      of: (at) => (at.intoWorkW ?? 0) / perHeat(at),
    }
  return {
    inputs: {
      massKg: input(need.massKg, 'kg'),
      riseK: input(need.riseK, 'K'),
      steelJPerKgK: input(STEEL_J_PER_KG_K, 'J/(kg K)', {
        u: STEEL_RELATIVE_U * STEEL_J_PER_KG_K,
        provenance: 'from memory',
      }),
      heatingS: input(burnS, 's'),
      ...flame,
    },
    of: (at) =>
      ((at.massKg ?? 0) * (at.riseK ?? 0) * (at.steelJPerKgK ?? 0)) /
      (at.heatingS ?? 1) /
      perHeat(at),
  }
}

function drawOf(
  { fuel, supply }: HeatingInput,
  fuelM3PerS: number,
): Outcome<{ withdrawal: Withdrawal | null }> {
  if (fuel !== 'acetylene' || !supply) return { ok: true, withdrawal: null }
  const { cylinders, ...rest } = supply
  const allowed = withdrawal({ gas: 'acetylene', ...rest, drawM3PerS: fuelM3PerS })
  if (!allowed.ok)
    return refuse(allowed.refusals.map((one) => ({ ...one, field: `supply.${one.field}` })))
  const needed = allowed.cylindersOnManifold ?? 1
  if (needed <= cylinders) return { ok: true, withdrawal: allowed }
  return refuse([
    {
      code: 'DRAWS_ACETONE',
      field: 'supply.cylinders',
      value: cylinders,
      limit: { min: needed },
      because: 'drawAboveFraction',
      instead: ['moreCylinders', 'smallerHead', 'otherFuel'],
    },
  ])
}

function check({ need, burnS, oxygenRatio, transferShare, supply }: HeatingInput): Refusal[] {
  const wanted =
    need.kind === 'steel'
      ? numberRefusals({
          'need.massKg': [need.massKg, { above: 0, unit: 'kg' }],
          'need.riseK': [need.riseK, { above: 0, max: MAX_RISE_K, unit: 'K' }],
        })
      : need.kind === 'heat'
        ? numberRefusals({ 'need.intoWorkW': [need.intoWorkW, { above: 0, unit: 'W' }] })
        : numberRefusals({
            'need.fuelM3PerS': [need.fuelM3PerS, { above: 0, max: 1, unit: 'm3/s' }],
          })
  return [
    ...wanted,
    ...numberRefusals({
      burnS: [burnS, { above: 0, max: 1e7, unit: 's' }],
      oxygenRatio: [oxygenRatio, { above: 0, max: 10 }],
      transferShare: [transferShare, { min: 0.01, max: 1 }],
      'supply.cylinders': [supply?.cylinders, { min: 1, max: 64 }],
    }),
  ]
}
