import { numberRefusals, type Outcome } from './check-numbers'
import { torchOxygenRatio } from './flame'
import { type FuelCode, standardDensityKgPerM3 } from './gas-data'
import { type Input, input, type Measured, measure } from './measured'
import { type Refusal, refuse } from './refusal'

export const FLAME_WORK_CODES = ['welding', 'brazing', 'gouging'] as const
export type FlameWorkCode = (typeof FLAME_WORK_CODES)[number]

export type FlameWorkInput = {
  work: FlameWorkCode
  fuel: FuelCode
  /** Flows from the tip's maker: no table of them could be read. */
  fuelM3PerS: number
  oxygenM3PerS?: number
  flowRelativeUncertainty?: number
  /** How long it burns: as said, or by length and speed, pass by pass. */
  time: { burnS: number } | { lengthM: number; speedMPerS: number; passes?: number }
  /** Rod melted in, by length of rod or by the joint that it fills. */
  filler?:
    | { kind: 'rod'; rodDiameterM: number; rodLengthM: number; densityKgPerM3: number }
    | { kind: 'joint'; volumeM3: number; densityKgPerM3: number; lossShare?: number }
  /** Cross section of the groove that is taken out, for the weight removed. */
  grooveAreaM2?: number
}

export type FlameWork = Outcome<{
  burnS: Measured
  fuelKg: Measured
  oxygenKg: Measured
  fillerKg: Measured | null
  removedKg: Measured | null
}>

/** Judgement, no source: a flow set by eye. */
const FLOW_RELATIVE_U = 0.1
const STEEL_KG_PER_M3 = 7850

/**
 * Gas, time and rod of oxy-fuel welding, brazing or gouging, from the user's own flows.
 *
 * @param known the work, fuel, flows (m³/s at 70 °F and 1 atm), time or length and speed, rod or joint, groove
 * @returns seconds, kg of each gas, of rod and of metal taken out, with uncertainty; or refusals
 * @remarks Oxygen without its own flow is the fuel's flow times the torch ratio of the fuel; gouging asks for it, since
 *   its jet takes far more.
 * @source definition; ratio `GASES.preheatOxygenRatio`; steel 7850 kg/m³
 */
export function flameWork(known: FlameWorkInput): FlameWork {
  const refusals = check(known)
  if (refusals.length > 0) return refuse(refusals)
  return {
    ok: true,
    burnS: measure({ formulaCode: 'burnTime', unit: 's', min: 0, ...timeInputs(known.time) }),
    ...gasesOf(known),
    fillerKg: known.filler ? fillerOf(known.filler) : null,
    removedKg: removedOf(known),
  }
}

function gasesOf(known: FlameWorkInput): { fuelKg: Measured; oxygenKg: Measured } {
  const u = known.flowRelativeUncertainty ?? FLOW_RELATIVE_U
  const provenance = known.flowRelativeUncertainty === undefined ? 'common practice' : 'entered'
  const flow = (value: number) => input(value, 'm³/s', { u: u * value, provenance, min: 0 })
  const time = timeInputs(known.time)
  const fuelM3PerS = flow(known.fuelM3PerS)
  const gas = (formulaCode: string, part: Time) =>
    measure({
      formulaCode,
      unit: 'kg',
      min: 0,
      inputs: { ...part.inputs, ...time.inputs },
      of: (at) => part.of(at) * time.of(at),
    })
  const oxygen = standardDensityKgPerM3('oxygen')
  const fuelKg = gas('flameWorkFuel', {
    inputs: { fuelM3PerS },
    of: (at) => (at.fuelM3PerS ?? 0) * standardDensityKgPerM3(known.fuel),
  })
  if (known.oxygenM3PerS !== undefined) {
    const inputs = { oxygenM3PerS: flow(known.oxygenM3PerS) }
    const of = (at: Record<string, number>) => (at.oxygenM3PerS ?? 0) * oxygen
    return { fuelKg, oxygenKg: gas('flameWorkOxygen', { inputs, of }) }
  }
  const inputs = { fuelM3PerS, oxygenRatio: torchOxygenRatio(known.fuel) }
  const of = (at: Record<string, number>) => (at.fuelM3PerS ?? 0) * (at.oxygenRatio ?? 0) * oxygen
  return { fuelKg, oxygenKg: gas('flameWorkOxygenByRatio', { inputs, of }) }
}

type Time = { inputs: Record<string, Input>; of: (at: Record<string, number>) => number }

function timeInputs(time: FlameWorkInput['time']): Time {
  if ('burnS' in time)
    return { inputs: { burnS: input(time.burnS, 's') }, of: (at) => at.burnS ?? 0 }
  return {
    inputs: {
      lengthM: input(time.lengthM, 'm'),
      speedMPerS: input(time.speedMPerS, 'm/s'),
      passes: input(time.passes ?? 1, ''),
    },
    of: (at) => ((at.lengthM ?? 0) * (at.passes ?? 1)) / (at.speedMPerS ?? 1),
  }
}

function fillerOf(filler: NonNullable<FlameWorkInput['filler']>): Measured {
  if (filler.kind === 'rod')
    return measure({
      formulaCode: 'fillerRod',
      unit: 'kg',
      min: 0,
      inputs: {
        rodDiameterM: input(filler.rodDiameterM, 'm'),
        rodLengthM: input(filler.rodLengthM, 'm'),
        densityKgPerM3: input(filler.densityKgPerM3, 'kg/m³'),
      },
      of: (at) => (Math.PI / 4) * at.rodDiameterM ** 2 * at.rodLengthM * at.densityKgPerM3,
    })
  return measure({
    formulaCode: 'fillerJoint',
    unit: 'kg',
    min: 0,
    inputs: {
      volumeM3: input(filler.volumeM3, 'm³'),
      densityKgPerM3: input(filler.densityKgPerM3, 'kg/m³'),
      lossShare: input(filler.lossShare ?? 0, '1'),
    },
    of: (at) => (at.volumeM3 * at.densityKgPerM3) / (1 - at.lossShare),
  })
}

function removedOf({ grooveAreaM2, time }: FlameWorkInput): Measured | null {
  if (grooveAreaM2 === undefined || !('lengthM' in time)) return null
  return measure({
    formulaCode: 'grooveRemoved',
    unit: 'kg',
    min: 0,
    inputs: { grooveAreaM2: input(grooveAreaM2, 'm²'), lengthM: input(time.lengthM, 'm') },
    of: (at) => at.grooveAreaM2 * at.lengthM * STEEL_KG_PER_M3,
  })
}

function check(known: FlameWorkInput): Refusal[] {
  const flow = { min: 0, max: 1, unit: 'm3/s' }
  const missing: Refusal[] =
    known.work === 'gouging' && known.oxygenM3PerS === undefined
      ? [{ code: 'NO_PUBLISHED_FIGURE', field: 'oxygenM3PerS', value: null, limit: flow }]
      : []
  return [
    ...missing,
    ...numberRefusals({
      fuelM3PerS: [known.fuelM3PerS, flow],
      oxygenM3PerS: [known.oxygenM3PerS, flow],
      flowRelativeUncertainty: [known.flowRelativeUncertainty, { min: 0, max: 1 }],
      grooveAreaM2: [known.grooveAreaM2, { min: 0, max: 1, unit: 'm²' }],
    }),
    ...timeRefusals(known.time),
    ...fillerRefusals(known.filler),
  ]
}

function timeRefusals(time: FlameWorkInput['time']): Refusal[] {
  return 'burnS' in time
    ? numberRefusals({ 'time.burnS': [time.burnS, { min: 0, max: 1e7, unit: 's' }] })
    : numberRefusals({
        'time.lengthM': [time.lengthM, { min: 0, max: 1e5, unit: 'm' }],
        'time.speedMPerS': [time.speedMPerS, { above: 0, max: 1, unit: 'm/s' }],
        'time.passes': [time.passes, { min: 1, max: 100 }],
      })
}

function fillerRefusals(filler: FlameWorkInput['filler']): Refusal[] {
  const positive = { above: 0 }
  return filler === undefined
    ? []
    : filler.kind === 'rod'
      ? numberRefusals({
          'filler.rodDiameterM': [filler.rodDiameterM, positive],
          'filler.rodLengthM': [filler.rodLengthM, { min: 0 }],
          'filler.densityKgPerM3': [filler.densityKgPerM3, positive],
        })
      : numberRefusals({
          'filler.volumeM3': [filler.volumeM3, { min: 0 }],
          'filler.densityKgPerM3': [filler.densityKgPerM3, positive],
          'filler.lossShare': [filler.lossShare, { min: 0, max: 0.9 }],
        })
}
