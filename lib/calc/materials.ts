import type { Refusal } from './refusal'

export const MATERIAL_CODES = [
  'carbon_steel',
  'low_alloy_steel',
  'high_carbon_steel',
  'cast_iron',
  'stainless_steel',
  'aluminium',
  'copper',
  'brass_or_bronze',
  'nickel_alloy',
] as const
export type MaterialCode = (typeof MATERIAL_CODES)[number]

export type NotCutBecause =
  | 'hardensAndCracks'
  | 'oxideMeltsAboveMetal'
  | 'chromiumOxideShields'
  | 'heatRunsAway'
  | 'notInThisChart'

export type CutInstead =
  | 'preheatProcedure'
  | 'abrasiveSaw'
  | 'plasma'
  | 'breakCold'
  | 'saw'
  | 'shear'
  | 'ownTipChart'
  | 'ownSettings'

export type Material = {
  cuttable: boolean
  because?: NotCutBecause
  instead: readonly CutInstead[]
  isIron: boolean
  densityKgPerM3: number
}

/**
 * Can the metal be flame-cut? The oxide must melt below the metal, and burning must carry itself.
 *
 * @source principle: course notes on the chemistry of oxygen cutting (read) and TWI Job Knowledge 50
 *   (opening read); the list of metals and of alternatives is common practice. Densities: steel 7850 as in the
 *   oxygen floor; the others rounded, from memory.
 */
export const MATERIALS: Readonly<Record<MaterialCode, Material>> = {
  carbon_steel: { cuttable: true, instead: [], isIron: true, densityKgPerM3: 7850 },
  low_alloy_steel: { cuttable: true, instead: [], isIron: true, densityKgPerM3: 7850 },
  high_carbon_steel: {
    cuttable: false,
    because: 'hardensAndCracks',
    instead: ['preheatProcedure', 'abrasiveSaw', 'ownTipChart', 'ownSettings'],
    isIron: true,
    densityKgPerM3: 7850,
  },
  cast_iron: {
    cuttable: false,
    because: 'oxideMeltsAboveMetal',
    instead: ['abrasiveSaw', 'plasma', 'breakCold', 'ownTipChart', 'ownSettings'],
    isIron: true,
    densityKgPerM3: 7200,
  },
  stainless_steel: {
    cuttable: false,
    because: 'chromiumOxideShields',
    instead: ['plasma', 'abrasiveSaw', 'ownTipChart', 'ownSettings'],
    isIron: true,
    densityKgPerM3: 8000,
  },
  aluminium: {
    cuttable: false,
    because: 'oxideMeltsAboveMetal',
    instead: ['plasma', 'saw', 'shear', 'ownSettings'],
    isIron: false,
    densityKgPerM3: 2700,
  },
  copper: {
    cuttable: false,
    because: 'heatRunsAway',
    instead: ['saw', 'shear', 'plasma', 'ownSettings'],
    isIron: false,
    densityKgPerM3: 8960,
  },
  brass_or_bronze: {
    cuttable: false,
    because: 'heatRunsAway',
    instead: ['saw', 'shear', 'ownSettings'],
    isIron: false,
    densityKgPerM3: 8500,
  },
  nickel_alloy: {
    cuttable: false,
    because: 'oxideMeltsAboveMetal',
    instead: ['plasma', 'abrasiveSaw', 'ownSettings'],
    isIron: false,
    densityKgPerM3: 8900,
  },
}

const BY_CODE: ReadonlyMap<string, Material> = new Map(Object.entries(MATERIALS))

/** What is known of a metal; undefined for a code that is none. */
export function materialOf(code: string): Material | undefined {
  return BY_CODE.get(code)
}

/** True for a metal that this library knows. */
export function isMaterialCode(code: string): code is MaterialCode {
  return (MATERIAL_CODES as readonly string[]).includes(code)
}

/**
 * Refuses a metal that a chart is not for.
 *
 * @param input material code as entered; field to name; metals that the chart in use is for; whether the cut
 *   has the user's own gas and speed, which then stand in for any chart
 * @returns null when it can be cut by the chart or by the user's own figures
 * @source `MATERIALS`
 */
export function materialRefusal(input: {
  material: string
  field: string
  chartMaterials: readonly string[]
  hasOwnSettings?: boolean
}): Refusal | null {
  const { material, field, chartMaterials } = input
  if (chartMaterials.includes(material)) return null
  if (!isMaterialCode(material))
    return { code: 'UNKNOWN_MATERIAL', field, value: material, limit: { allowed: MATERIAL_CODES } }
  if (input.hasOwnSettings) return null
  const { because, instead } = MATERIALS[material]
  return {
    code: 'MATERIAL_NOT_FLAME_CUT',
    field,
    value: material,
    limit: { allowed: chartMaterials },
    because: because ?? 'notInThisChart',
    instead: instead.length > 0 ? instead : ['ownTipChart', 'ownSettings'],
  }
}

export const COATING_CODES = [
  'none',
  'unknown',
  'flammable',
  'lead_paint',
  'cadmium',
  'mercury',
  'beryllium',
  'zinc',
  'chromium',
] as const
export type CoatingCode = (typeof COATING_CODES)[number]

/** A precaution, and the rules that ask for it, by the ids of the catalogue of rules. */
export type CoatingPrecaution = { precaution: string; rules: readonly string[] }

export type CoatingAdvice = {
  coating: CoatingCode
  /** No cut before it is known what the coating is and does. */
  mustBeTestedFirst: boolean
  inTheOpen: readonly CoatingPrecaution[]
  enclosed: readonly CoatingPrecaution[]
}

const precaution = (name: string, ...rules: string[]): CoatingPrecaution => ({
  precaution: name,
  rules,
})
const TESTED_FIRST = {
  mustBeTestedFirst: true,
  inTheOpen: [precaution('test-coating-flammability', 'osha1926-coating-flammability-test')],
  enclosed: [precaution('test-coating-flammability', 'osha1926-coating-flammability-test')],
}
const FILTER = precaution(
  'filter-respirator',
  'osha1926-toxic-metals-open-air',
  'osha1926-lead-torch-respirator-apf50',
)
const EXHAUST_OR_AIRLINE = precaution(
  'local-exhaust-or-airline',
  'osha1926-lead-cadmium-mercury-enclosed',
)
const STRIPPED = precaution('strip-coating-4in', 'osha1926-toxic-coating-4in')
const LEAD = precaution('lead-interim-protection', 'osha1926-lead-task-2500')
const VENTILATED = precaution('ventilate-general-or-local', 'osha1926-zinc-lead-chromium-enclosed')
const TOXIC = {
  mustBeTestedFirst: false,
  inTheOpen: [FILTER],
  enclosed: [EXHAUST_OR_AIRLINE, STRIPPED],
}
const FUME = { mustBeTestedFirst: false, inTheOpen: [], enclosed: [VENTILATED] }

/**
 * Fume and respirator precautions of coated steel. They ask; the permit's rules decide.
 *
 * @source 29 CFR 1926.353 and 1926.62, by the ids of the catalogue of rules; a test compares the two
 */
const COATINGS: Readonly<Record<Exclude<CoatingCode, 'none'>, Omit<CoatingAdvice, 'coating'>>> = {
  unknown: TESTED_FIRST,
  flammable: TESTED_FIRST,
  lead_paint: { ...TOXIC, inTheOpen: [FILTER, LEAD], enclosed: [...TOXIC.enclosed, LEAD] },
  cadmium: TOXIC,
  mercury: TOXIC,
  beryllium: {
    mustBeTestedFirst: false,
    inTheOpen: [precaution('airline-respirator', 'osha1926-toxic-metals-open-air')],
    enclosed: [precaution('local-exhaust-and-airline', 'osha1926-lead-cadmium-mercury-enclosed')],
  },
  zinc: FUME,
  chromium: FUME,
}

/** True for a coating that this library knows. */
export function isCoatingCode(code: string): code is CoatingCode {
  return (COATING_CODES as readonly string[]).includes(code)
}

/** What a coating asks for; null for bare metal. */
export function coatingAdvice(coating: CoatingCode): CoatingAdvice | null {
  return coating === 'none' ? null : { coating, ...COATINGS[coating] }
}

export type Suitability = {
  cuttable: boolean
  because: NotCutBecause | null
  instead: readonly CutInstead[]
  /** Lanced anyway: by the user's own gas and speed, never by the table. */
  byOwnSettingsOnly: boolean
  coating: CoatingAdvice | null
}

/**
 * Can this metal with this coating be cut by the table; why not, and what instead.
 *
 * @param input material of `MATERIAL_CODES`, coating of `COATING_CODES`
 * @returns the answer, or refusals for a code that is not known
 * @source `MATERIALS`, and the precautions of `coatingAdvice`
 */
export function suitability(input: {
  material: string
  coating?: string
}): ({ ok: true } & Suitability) | { ok: false; refusals: Refusal[] } {
  const { material, coating = 'none' } = input
  if (!isMaterialCode(material) || !isCoatingCode(coating)) {
    const refusals = [
      materialRefusal({ material, field: 'material', chartMaterials: MATERIAL_CODES }),
      coatingRefusal(coating, 'coating'),
    ]
    return { ok: false, refusals: refusals.filter((refusal) => refusal !== null) }
  }
  const { cuttable, because = null, instead } = MATERIALS[material]
  return {
    ok: true,
    cuttable,
    because,
    instead,
    byOwnSettingsOnly: !cuttable,
    coating: coatingAdvice(coating),
  }
}

/** Refuses a coating that is not known. */
export function coatingRefusal(coating: string, field: string): Refusal | null {
  if (isCoatingCode(coating)) return null
  return { code: 'UNKNOWN_COATING', field, value: coating, limit: { allowed: COATING_CODES } }
}
