import { requireNumber } from './errors'
import { GASES } from './gas-data'
import { propaneVapourM3PerS } from './propane-vapour'
import { type Refusal, refuse } from './refusal'
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
 * @returns allowed draw of one cylinder in m³/s (70 °F, 1 atm) and kg/s, and cylinders on the manifold
 *   rounded up; or refusals
 * @remarks A draw exactly at the limit is allowed.
 * @source `ACETYLENE_DRAW_OPTIONS`, `propaneVapourM3PerS`
 */
export function withdrawal(input: WithdrawalInput): WithdrawalOutcome {
  const refusals = check(input)
  if (refusals.length > 0) return refuse(refusals)
  return input.gas === 'acetylene' ? acetylene(input) : propane(input)
}

function check(input: WithdrawalInput): Refusal[] {
  const refusals: Refusal[] = []
  const positive = (field: string, value: number) => {
    if (!(value > 0 && Number.isFinite(value)))
      refusals.push({ code: 'OUT_OF_RANGE', field, value, limit: { above: 0 } })
  }
  positive('capacityKg', input.capacityKg)
  if (input.remainingKg !== undefined) positive('remainingKg', input.remainingKg)
  if (
    input.drawM3PerS !== undefined &&
    !(input.drawM3PerS >= 0 && Number.isFinite(input.drawM3PerS))
  ) {
    refusals.push({
      code: 'OUT_OF_RANGE',
      field: 'drawM3PerS',
      value: input.drawM3PerS,
      limit: { min: 0, unit: 'm3/s' },
    })
  }
  return refusals
}

function acetylene(input: AcetyleneInput): WithdrawalOutcome {
  const option = input.option ?? 'tenthIntermittentFifteenthContinuous'
  const pattern = input.pattern ?? 'intermittent'
  const basis = input.basis ?? 'capacity'
  const rule = ACETYLENE_DRAW_OPTIONS[option]
  // What is left is the stricter base: an over-read cylinder never allows more than its capacity does.
  const baseKg =
    basis === 'remaining'
      ? Math.min(input.capacityKg, input.remainingKg ?? input.capacityKg)
      : input.capacityKg
  const density = GASES.acetylene.densityKgPerM3
  const allowed =
    rule.perHour === null
      ? (rule.plainFt3PerH ?? 0) * UNITS['ft3/h'].toBase
      : (rule.perHour[pattern] * baseKg) / density / UNITS.h.toBase
  return {
    ok: true,
    gas: 'acetylene',
    allowedM3PerSPerCylinder: allowed,
    allowedKgPerSPerCylinder: allowed * density,
    cylindersOnManifold: cylindersFor(input.drawM3PerS, allowed),
    option,
    source: source(
      'acetyleneDraw',
      {
        option: [option, ''],
        dated: [rule.dated, ''],
        pattern: [pattern, ''],
        basis: [basis, ''],
        baseKg: [baseKg, 'kg'],
      },
      { provenance: rule.provenance },
    ),
  }
}

function propane(input: PropaneInput): WithdrawalOutcome {
  const vapour = propaneVapourM3PerS(input)
  if (!vapour.ok) return vapour
  return {
    ok: true,
    gas: 'propane',
    allowedM3PerSPerCylinder: vapour.m3PerS,
    allowedKgPerSPerCylinder: vapour.m3PerS * GASES.propane.densityKgPerM3,
    cylindersOnManifold: cylindersFor(input.drawM3PerS, vapour.m3PerS),
    option: null,
    source: vapour.source,
  }
}

function cylindersFor(drawM3PerS: number | undefined, allowedM3PerS: number): number | null {
  if (drawM3PerS === undefined) return null
  requireNumber('allowedM3PerS', allowedM3PerS, { above: 0 })
  // A draw at the limit is one cylinder, whatever the last digit of the division says.
  return Math.max(1, Math.ceil(drawM3PerS / allowedM3PerS - 1e-9))
}
