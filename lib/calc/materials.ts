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

type Suitability = {
  cuttable: boolean
  because?: string
  instead: readonly string[]
  isIron: boolean
}

/**
 * Can the metal be flame-cut? The oxide must melt below the metal, and burning must carry itself.
 *
 * @source principle: course notes on the chemistry of oxygen cutting (read) and TWI Job Knowledge 50
 *   (opening read); the list of metals and of alternatives is common practice.
 */
export const MATERIALS: Readonly<Record<MaterialCode, Suitability>> = {
  carbon_steel: { cuttable: true, instead: [], isIron: true },
  low_alloy_steel: { cuttable: true, instead: [], isIron: true },
  high_carbon_steel: {
    cuttable: false,
    because: 'hardensAndCracks',
    instead: ['preheatProcedure', 'abrasiveSaw', 'ownTipChart'],
    isIron: true,
  },
  cast_iron: {
    cuttable: false,
    because: 'oxideMeltsAboveMetal',
    instead: ['abrasiveSaw', 'plasma', 'breakCold', 'ownTipChart'],
    isIron: true,
  },
  stainless_steel: {
    cuttable: false,
    because: 'chromiumOxideShields',
    instead: ['plasma', 'abrasiveSaw', 'ownTipChart'],
    isIron: true,
  },
  aluminium: {
    cuttable: false,
    because: 'oxideMeltsAboveMetal',
    instead: ['plasma', 'saw', 'shear'],
    isIron: false,
  },
  copper: {
    cuttable: false,
    because: 'heatRunsAway',
    instead: ['saw', 'shear', 'plasma'],
    isIron: false,
  },
  brass_or_bronze: {
    cuttable: false,
    because: 'heatRunsAway',
    instead: ['saw', 'shear'],
    isIron: false,
  },
  nickel_alloy: {
    cuttable: false,
    because: 'oxideMeltsAboveMetal',
    instead: ['plasma', 'abrasiveSaw'],
    isIron: false,
  },
}

/** True for a metal that this library knows. */
export function isMaterialCode(code: string): code is MaterialCode {
  return (MATERIAL_CODES as readonly string[]).includes(code)
}

/**
 * Refuses a metal that a chart is not for.
 *
 * @param input material code as entered; field to name; metals that the chart in use is for, and whether
 *   it is the shop's own
 * @returns null when it can be cut by the chart
 * @source `MATERIALS`
 */
export function materialRefusal(input: {
  material: string
  field: string
  chartMaterials: readonly string[]
}): Refusal | null {
  const { material, field, chartMaterials } = input
  if (chartMaterials.includes(material)) return null
  const limit = { allowed: chartMaterials }
  if (!isMaterialCode(material))
    return { code: 'UNKNOWN_MATERIAL', field, value: material, limit: { allowed: MATERIAL_CODES } }
  const { because, instead } = MATERIALS[material]
  return {
    code: 'MATERIAL_NOT_FLAME_CUT',
    field,
    value: material,
    limit,
    because: because ?? 'notInThisChart',
    instead: instead.length > 0 ? instead : ['ownTipChart'],
  }
}
