import { numberRefusals } from './check-numbers'
import { AIR_U_K, DRAW_RELATIVE_U } from './draw-doubt'
import { requireNumber } from './errors'
import { GASES } from './gas-data'
import { type Input, type Measured, input as measurable, measure } from './measured'
import { propaneVapourM3PerS, propaneVapourMins } from './propane-vapour'
import { type Refusal, refuse } from './refusal'
import type { Source } from './source'
import { source } from './trace'
import { UNITS } from './units'
import type {
  AcetyleneDrawOptionCode,
  WithdrawalInput,
  WithdrawalOutcome,
} from './withdrawal-types'

type AcetyleneInput = Extract<WithdrawalInput, { gas: 'acetylene' }>
type PropaneInput = Extract<WithdrawalInput, { gas: 'propane' }>

type DrawRule = {
  /** Fraction of the contents per hour, or null for a plain limit. */
  perHour: { intermittent: number; continuous: number } | null
  plainFt3PerH: number | null
  dated: string
  provenance: 'read' | 'from memory'
}

/**
 * Limits on drawing acetylene, each named and dated: they have changed, and shops follow different ones.
 *
 * @source 1/10 and 1/15: CGA G-1 Acetylene, 2009 and later, from memory. 1/7: Manly 1916 (Gutenberg 7969),
 *   read. 50 ft³/h from one cylinder: US Army OD0017, read; laxer than the others, kept for old papers.
 */
export const ACETYLENE_DRAW_OPTIONS: Readonly<Record<AcetyleneDrawOptionCode, DrawRule>> = {
  tenthIntermittentFifteenthContinuous: {
    perHour: { intermittent: 1 / 10, continuous: 1 / 15 },
    plainFt3PerH: null,
    dated: '2009',
    provenance: 'from memory',
  },
  seventh1916: {
    perHour: { intermittent: 1 / 7, continuous: 1 / 7 },
    plainFt3PerH: null,
    dated: '1916',
    provenance: 'read',
  },
  fiftyCubicFeetPerHour: { perHour: null, plainFt3PerH: 50, dated: 'undated', provenance: 'read' },
}

/**
 * What may be drawn from one cylinder, and how many must stand on a manifold for a given draw.
 *
 * @param input acetylene: capacity, what is left, the named option and its basis; propane: what is left,
 *   air temperature, and for other than 100-lb cylinders the vessel's dimensions
 * @returns allowed draw of one cylinder in m³/s (70 °F, 1 atm) and kg/s with its doubt, and cylinders on the
 *   manifold, with their doubt and rounded up; or refusals
 * @remarks A draw exactly at the limit is allowed.
 * @source `ACETYLENE_DRAW_OPTIONS`, `propaneVapourM3PerS`
 */
export function withdrawal(input: WithdrawalInput): WithdrawalOutcome {
  const refusals = check(input)
  if (refusals.length > 0) return refuse(refusals)
  return input.gas === 'acetylene' ? acetylene(input) : propane(input)
}

function check(input: WithdrawalInput): Refusal[] {
  return numberRefusals({
    capacityKg: [input.capacityKg, { above: 0 }],
    remainingKg: [input.remainingKg, { above: 0 }],
    remainingStandardUncertaintyKg: [
      input.remainingStandardUncertaintyKg,
      { min: 0, max: input.capacityKg, unit: 'kg' },
    ],
    drawM3PerS: [input.drawM3PerS, { min: 0, unit: 'm3/s' }],
    drawStandardUncertaintyM3PerS: [
      input.drawStandardUncertaintyM3PerS,
      { min: 0, max: input.drawM3PerS ?? 0, unit: 'm3/s' },
    ],
    ...(input.gas === 'propane'
      ? { airStandardUncertaintyK: [input.airStandardUncertaintyK, { min: 0, max: 20, unit: 'K' }] }
      : {}),
  })
}

/** What one cylinder gives: its inputs, the function of them, and the words for it. */
type Allowed = {
  inputs: Readonly<Record<string, Input>>
  of: (values: Readonly<Record<string, number>>) => number
  option: AcetyleneDrawOptionCode | null
  source: Source
}

function acetylene(input: AcetyleneInput): WithdrawalOutcome {
  const option = input.option ?? 'tenthIntermittentFifteenthContinuous'
  const pattern = input.pattern ?? 'intermittent'
  const basis = input.basis ?? 'capacity'
  const rule = ACETYLENE_DRAW_OPTIONS[option]
  const density = GASES.acetylene.densityKgPerM3
  const perHour = rule.perHour?.[pattern] ?? null
  const left = basis === 'remaining' ? (input.remainingKg ?? input.capacityKg) : input.capacityKg
  // What is left is the stricter base: an over-read cylinder never allows more than its capacity does.
  const baseOf = (kg: number) => Math.min(input.capacityKg, kg)
  const u = basis === 'remaining' ? (input.remainingStandardUncertaintyKg ?? 0) : 0
  return outcomeOf(input, {
    inputs: { baseKg: measurable(left, 'kg', { u, provenance: rule.provenance, min: 0 }) },
    of: ({ baseKg = 0 }) =>
      perHour === null
        ? (rule.plainFt3PerH ?? 0) * UNITS['ft3/h'].toBase
        : (perHour * baseOf(baseKg)) / density / UNITS.h.toBase,
    option,
    source: source(
      'acetyleneDraw',
      {
        option: [option, ''],
        dated: [rule.dated, ''],
        pattern: [pattern, ''],
        basis: [basis, ''],
        baseKg: [baseOf(left), 'kg'],
      },
      { provenance: rule.provenance },
    ),
  })
}

function propane(input: PropaneInput): WithdrawalOutcome {
  const vapour = propaneVapourM3PerS(input)
  if (!vapour.ok) return vapour
  const mins = propaneVapourMins(input.capacityKg)
  const { provenance } = vapour.source
  return outcomeOf(input, {
    inputs: {
      remainingKg: measurable(input.remainingKg, 'kg', {
        u: input.remainingStandardUncertaintyKg ?? 0,
        provenance,
        min: mins.remainingKg,
      }),
      airTemperatureK: measurable(input.airTemperatureK, 'K', {
        u: input.airStandardUncertaintyK ?? AIR_U_K,
        provenance: input.airStandardUncertaintyK === undefined ? 'common practice' : provenance,
        min: mins.airTemperatureK,
      }),
    },
    of: (at) => {
      const near = propaneVapourM3PerS({ ...input, ...at })
      return near.ok ? near.m3PerS : vapour.m3PerS
    },
    option: null,
    source: vapour.source,
  })
}

function outcomeOf(
  { gas, drawM3PerS, drawStandardUncertaintyM3PerS }: WithdrawalInput,
  { inputs, of, option, source: from }: Allowed,
): WithdrawalOutcome {
  const density = GASES[gas].densityKgPerM3
  const unsourced = measure({ formulaCode: from.formulaCode, unit: 'm³/s', inputs, of, min: 0 })
  const allowed: Measured = { ...unsourced, source: from }
  const needed =
    drawM3PerS === undefined
      ? null
      : neededOf({ inputs, of, draw: drawOf(drawM3PerS, drawStandardUncertaintyM3PerS) })
  return {
    ok: true,
    gas,
    allowedM3PerSPerCylinder: allowed.mean,
    allowedKgPerSPerCylinder: allowed.mean * density,
    allowed,
    cylindersOnManifold: needed === null ? null : wholeCylinders(needed.mean),
    needed,
    option,
    source: from,
  }
}

const drawOf = (m3PerS: number, u: number | undefined): Input =>
  measurable(m3PerS, 'm³/s', {
    u: u ?? DRAW_RELATIVE_U * m3PerS,
    provenance: u === undefined ? 'common practice' : 'entered',
    min: 0,
  })

function neededOf({
  inputs,
  of,
  draw,
}: Pick<Allowed, 'inputs' | 'of'> & { draw: Input }): Measured {
  requireNumber('allowedM3PerS', of(meansOf(inputs)), { above: 0 })
  return measure({
    formulaCode: 'cylindersForDraw',
    unit: '',
    min: 0,
    inputs: { drawM3PerS: draw, ...inputs } as Readonly<Record<string, Input>>,
    of: ({ drawM3PerS = 0, ...at }) => drawM3PerS / of(at),
  })
}

const meansOf = (inputs: Readonly<Record<string, Input>>) =>
  Object.fromEntries(Object.entries(inputs).map(([name, { value }]) => [name, value]))

/**
 * Whole cylinders for a need that may be a fraction; at least one.
 *
 * @param needed cylinders, 0 or more
 * @remarks A need at a whole number stays that number, whatever the last digit of the division says.
 */
export const wholeCylinders = (needed: number): number => Math.max(1, Math.ceil(needed - 1e-9))
