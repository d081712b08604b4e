/** Why a calculation gives no number. `messages/` has the sentence for each code. */
export const REFUSAL_CODES = [
  'OUT_OF_RANGE',
  'OUTSIDE_TABLE',
  'OUTSIDE_FIT',
  'MATERIAL_NOT_FLAME_CUT',
  'UNKNOWN_MATERIAL',
  'UNKNOWN_FUEL',
  'FUEL_NOT_IN_TABLE',
  'UNKNOWN_SECTION',
  'UNKNOWN_GAS',
  'GAUGE_TELLS_NOTHING',
  'SIZE_INCOMPLETE',
  'NO_VAPOUR_TABLE',
  'NO_CUTS',
  'NO_READINGS',
  'READINGS_OUT_OF_ORDER',
  'PURITY_TOO_LOW',
  'CHART_NOT_MONOTONE',
  'OWN_SETTINGS_NEEDED',
  'NOT_FOR_SHAPE',
  'UNKNOWN_COATING',
  'UNKNOWN_JUDGEMENT',
  'NOT_WHOLE',
  'NO_PUBLISHED_FIGURE',
  'DRAWS_ACETONE',
  'ACETYLENE_ABOVE_15_PSIG',
  'HOSE_CANNOT_CARRY',
  'HOSE_GRADE_WRONG',
  'VAPOUR_PRESSURE_TOO_LOW',
  'DRAW_ABOVE_LIMIT',
] as const
export type RefusalCode = (typeof REFUSAL_CODES)[number]

/** One reason: which field, what it held, what would have been allowed. */
export type Refusal = {
  code: RefusalCode
  /** Dotted path into the input, such as `cuts.3.lengthM`. */
  field: string
  value: string | number | null
  /** The bound or the allowed values; null when there is none to name. */
  limit: {
    min?: number
    max?: number
    above?: number
    unit?: string
    allowed?: readonly string[]
  } | null
  /** Further codes that explain it, such as `oxideMeltsAboveMetal`, and what to do instead. */
  because?: string
  instead?: readonly string[]
}

export type Refused = { ok: false; refusals: Refusal[] }

/** Builds the failed outcome; every reason at once. */
export function refuse(refusals: Refusal[]): Refused {
  return { ok: false, refusals }
}
