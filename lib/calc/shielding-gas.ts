import { numberRefusals, type Outcome } from './check-numbers'
import { type Input, input, type Measured, measure } from './measured'
import { type Refusal, refuse } from './refusal'
import type { Provenance } from './source'
import { rectangular } from './stats'

export const ARC_PROCESS_CODES = ['mig', 'tig', 'fluxCored'] as const
export type ArcProcessCode = (typeof ARC_PROCESS_CODES)[number]

export type ShieldingInput = {
  process: ArcProcessCode
  /** Shielding gas at the nozzle, m³/s at 70 °F and 1 atm: the procedure's, no figure was published here. */
  flowM3PerS: number
  flowRelativeUncertainty?: number
  weld: { kind: 'fillet'; legM: number } | { kind: 'groove'; areaM2: number }
  lengthM: number
  /** Metal above the drawn section: convexity, fit-up. */
  overweldShare?: number
  /** How fast metal goes in: by the wire feeder, or as the procedure says. */
  deposit: { kind: 'wire'; diameterM: number; feedMPerS: number } | { kind: 'rate'; kgPerS: number }
  /** Share of wire that stays in the weld. */
  depositionEfficiency?: number
  /** Gas before and after each arc. */
  starts?: number
  preAndPostFlowS?: number
  /** Part of the working time that the arc burns. */
  operatingFactor?: number
  /** Contents of one cylinder, to count them. */
  cylinderM3?: number
  densityKgPerM3?: number
}

export type Shielding = Outcome<{
  depositKg: Measured
  wireKg: Measured
  arcS: Measured
  clockS: Measured
  gasM3: Measured
  /** By the high end of what it may take; null where no cylinder was given. */
  cylinders: number | null
}>

/** Share of wire that becomes weld metal. From memory of welding procedure handbooks. */
const EFFICIENCY: Readonly<Record<ArcProcessCode, readonly [value: number, halfWidth: number]>> = {
  mig: [0.95, 0.03],
  tig: [0.99, 0.01],
  fluxCored: [0.86, 0.04],
}
const STEEL_KG_PER_M3 = 7850
/** Judgement, no source: welds come out larger than drawn. */
const OVERWELD = { value: 0.15, halfWidth: 0.15 } as const
const FLOW_RELATIVE_U = 0.1

/**
 * Weld metal, wire, arc time and shielding gas of a weld.
 *
 * @param known process, gas flow, weld size and length, deposition by wire or rate
 * @returns kg, s and m³ with uncertainty, and cylinders; or refusals
 * @remarks A fillet is the triangle on its leg. Gas flows while the arc burns, and before and after each start.
 * @source geometry; steel 7850 kg/m³; efficiencies from memory of welding procedure handbooks
 */
export function shieldingGas(known: ShieldingInput): Shielding {
  const refusals = check(known)
  if (refusals.length > 0) return refuse(refusals)
  const weld = weldInputs(known)
  const arc = arcInputs(known, weld)
  const start = {
    starts: input(known.starts ?? 0, ''),
    preAndPostFlowS: input(known.preAndPostFlowS ?? 0, 's'),
  }
  const u = known.flowRelativeUncertainty ?? FLOW_RELATIVE_U
  const gasM3 = measure({
    formulaCode: 'shieldingGas',
    unit: 'm³',
    min: 0,
    inputs: {
      ...arc.inputs,
      ...start,
      flowM3PerS: input(known.flowM3PerS, 'm³/s', { u: u * known.flowM3PerS, min: 0 }),
    } as Record<string, Input>,
    of: (at) => (at.flowM3PerS ?? 0) * (arc.of(at) + (at.starts ?? 0) * (at.preAndPostFlowS ?? 0)),
  })
  const of = (code: string, unit: string, part: Part) =>
    measure({ formulaCode: code, unit, min: 0, ...part })
  return {
    ok: true,
    depositKg: of('weldDeposit', 'kg', weld),
    wireKg: of('weldWire', 'kg', wireInputs(known, weld)),
    arcS: of('arcTime', 's', arc),
    clockS: of('weldClock', 's', {
      inputs: { ...arc.inputs, operatingFactor: input(known.operatingFactor ?? 1, '1') },
      of: (at) => arc.of(at) / (at.operatingFactor ?? 1),
    }),
    gasM3,
    cylinders:
      known.cylinderM3 === undefined
        ? null
        : Math.max(1, Math.ceil(gasM3.high90 / known.cylinderM3 - 1e-9)),
  }
}

type Part = { inputs: Record<string, Input>; of: (at: Record<string, number>) => number }

function weldInputs(known: ShieldingInput): Part {
  const { weld } = known
  const own = known.overweldShare
  const shared = {
    lengthM: input(known.lengthM, 'm'),
    overweldShare:
      own === undefined
        ? input(OVERWELD.value, '1', {
            u: rectangular(OVERWELD.halfWidth),
            provenance: 'common practice',
            min: 0,
          })
        : input(own, '1'),
    densityKgPerM3: input(known.densityKgPerM3 ?? STEEL_KG_PER_M3, 'kg/m³'),
  }
  const kg = (at: Record<string, number>, area: number) =>
    area * (1 + (at.overweldShare ?? 0)) * (at.lengthM ?? 0) * (at.densityKgPerM3 ?? 0)
  if (weld.kind === 'fillet')
    return {
      inputs: { legM: input(weld.legM, 'm'), ...shared },
      of: (at) => kg(at, (at.legM ?? 0) ** 2 / 2),
    }
  return {
    inputs: { areaM2: input(weld.areaM2, 'm²'), ...shared },
    of: (at) => kg(at, at.areaM2 ?? 0),
  }
}

function efficiencyOf(known: ShieldingInput): Input {
  if (known.depositionEfficiency !== undefined)
    return input(known.depositionEfficiency, '1', { max: 1 })
  const [value, halfWidth] = EFFICIENCY[known.process]
  const provenance: Provenance = 'from memory'
  return input(value, '1', { u: rectangular(halfWidth), provenance, max: 1 })
}

function wireInputs(known: ShieldingInput, weld: Part): Part {
  return {
    inputs: { ...weld.inputs, depositionEfficiency: efficiencyOf(known) },
    of: (at) => weld.of(at) / (at.depositionEfficiency ?? 1),
  }
}

function arcInputs(known: ShieldingInput, weld: Part): Part {
  const { deposit } = known
  if (deposit.kind === 'rate')
    return {
      inputs: { ...weld.inputs, depositKgPerS: input(deposit.kgPerS, 'kg/s') },
      of: (at) => weld.of(at) / (at.depositKgPerS ?? 1),
    }
  const wire = wireInputs(known, weld)
  return {
    inputs: {
      ...wire.inputs,
      diameterM: input(deposit.diameterM, 'm'),
      feedMPerS: input(deposit.feedMPerS, 'm/s'),
    },
    of: (at) =>
      wire.of(at) /
      ((Math.PI / 4) *
        (at.diameterM ?? 1) ** 2 *
        (at.feedMPerS ?? 1) *
        (at.densityKgPerM3 ?? STEEL_KG_PER_M3)),
  }
}

function check(known: ShieldingInput): Refusal[] {
  const { weld } = known
  return [
    ...depositRefusals(known),
    ...numberRefusals({
      flowM3PerS: [known.flowM3PerS, { above: 0, max: 0.01, unit: 'm3/s' }],
      flowRelativeUncertainty: [known.flowRelativeUncertainty, { min: 0, max: 1 }],
      'weld.legM': [weld.kind === 'fillet' ? weld.legM : undefined, { above: 0, max: 0.1 }],
      'weld.areaM2': [weld.kind === 'groove' ? weld.areaM2 : undefined, { above: 0, max: 0.05 }],
      lengthM: [known.lengthM, { above: 0, max: 1e5, unit: 'm' }],
      overweldShare: [known.overweldShare, { min: 0, max: 2 }],
      depositionEfficiency: [known.depositionEfficiency, { above: 0, max: 1 }],
      starts: [known.starts, { min: 0, max: 1e6 }],
      preAndPostFlowS: [known.preAndPostFlowS, { min: 0, max: 600, unit: 's' }],
      operatingFactor: [known.operatingFactor, { above: 0, max: 1 }],
      cylinderM3: [known.cylinderM3, { above: 0, unit: 'm³' }],
      densityKgPerM3: [known.densityKgPerM3, { above: 0, max: 25_000 }],
    }),
  ]
}

function depositRefusals({ process, deposit }: ShieldingInput): Refusal[] {
  // A cored wire is not all metal: its cross section does not tell what it lays down.
  const cored: Refusal[] =
    process === 'fluxCored' && deposit.kind === 'wire'
      ? [
          {
            code: 'NO_PUBLISHED_FIGURE',
            field: 'deposit.kind',
            value: 'wire',
            limit: { allowed: ['rate'] },
            because: 'coredWireIsNotSolid',
          },
        ]
      : []
  return [
    ...cored,
    ...numberRefusals({
      'deposit.diameterM': [
        deposit.kind === 'wire' ? deposit.diameterM : undefined,
        { above: 0, max: 0.01, unit: 'm' },
      ],
      'deposit.feedMPerS': [
        deposit.kind === 'wire' ? deposit.feedMPerS : undefined,
        { above: 0, max: 1, unit: 'm/s' },
      ],
      'deposit.kgPerS': [
        deposit.kind === 'rate' ? deposit.kgPerS : undefined,
        { above: 0, max: 0.05, unit: 'kg/s' },
      ],
    }),
  ]
}
