import { STORE_RULES, type StoreRuleId } from './store-catalogue'

export const CYLINDER_SPECS = [
  '3A',
  '3AA',
  '3AL',
  '4B',
  '4BA',
  '4BW',
  '4L',
  '3E',
  '8',
  '8AL',
] as const
export type CylinderSpec = (typeof CYLINDER_SPECS)[number]

/** The ten-year list of 49 CFR 180.209(b)(1)(ii), as far as it was read. */
export const STAR_GASES = [
  'oxygen',
  'air',
  'argon',
  'nitrogen',
  'helium',
  'hydrogen',
  'neon',
  'krypton',
  'xenon',
  'nitrous_oxide',
  'ethylene',
  'sulfur_hexafluoride',
] as const

export type CylinderCondition =
  | 'sound'
  | 'heat_damage'
  | 'dent'
  | 'corrosion'
  | 'crack'
  | 'leak'
  | 'accident'
  | 'ground_down'

/** Months are `YYYY-MM`, days ISO dates; null where the stamp cannot be read. */
export interface CylinderMarks {
  spec: CylinderSpec
  manufactured: string | null
  /** The last requalification; null: never, or not known. */
  last: string | null
  isStarred: boolean
  gas: string | null
  waterCapacityLb?: number | null
  /** 4B family: how it was last tested. */
  method?: 'volumetric' | 'proof' | 'visual' | null
  service?: 'noncorrosive_coated' | 'other'
  isFireExtinguisher?: boolean
  /** Acetylene: whether the porous filler was ever inspected. */
  isFillerInspected?: boolean
  /** The end of a set service life, where the cylinder has one. */
  serviceLifeEnds?: string | null
  condition: CylinderCondition
  /** The month of the last filling. */
  filled: string | null
  /** Today in the site's zone, ISO date. */
  today: string
}

export type RequalificationReason =
  | 'date_unknown'
  | 'past_due'
  | 'shell_past_due'
  | 'filler_past_due'
  | 'condition'
  | 'service_life_over'
  | 'star_void'
  | 'filled_after_due'
  | 'fill_date_unknown'

export interface Requalification {
  /** The month up to and in which it may be filled; null where no test falls due, or none is known. */
  due: string | null
  shellDue: string | null
  fillerEarliest: string | null
  fillerLatest: string | null
  isStarVoid: boolean
  mayFill: boolean
  /** An out-of-date cylinder that was filled in time may be used up. */
  mayUseContents: boolean
  reasons: readonly RequalificationReason[]
  ruleIds: readonly StoreRuleId[]
}

function addYears(month: string, years: number): string {
  const [year = '', rest = ''] = [month.slice(0, 4), month.slice(4)]
  return `${String(Number(year) + years).padStart(4, '0')}${rest}`
}

/** A star counts only for what the text lists, to 125 lb of water, made after 1945. */
function isStarGood(marks: CylinderMarks): boolean {
  const { waterCapacityMaxLb, madeAfter } = STORE_RULES['dot-requal-3a-3aa'].limits
  const isListed = (STAR_GASES as readonly (string | null)[]).includes(marks.gas)
  const isSmall = marks.waterCapacityLb == null || marks.waterCapacityLb <= waterCapacityMaxLb
  const isNew = marks.manufactured === null || Number(marks.manufactured.slice(0, 4)) > madeAfter
  return isListed && isSmall && isNew
}

/** Years from the last test, or from manufacture where there was none. */
function intervalYears(marks: CylinderMarks): { years: number; ruleIds: readonly StoreRuleId[] } {
  const { spec } = marks
  if (spec === '3AL') {
    const { baseYears, extinguisherYears } = STORE_RULES['dot-requal-3al'].limits
    const years = marks.isFireExtinguisher ? extinguisherYears : baseYears
    return { years, ruleIds: ['dot-requal-3al'] }
  }
  if (spec === '3A' || spec === '3AA') {
    const { baseYears, starredYears } = STORE_RULES['dot-requal-3a-3aa'].limits
    if (!marks.isStarred) return { years: baseYears, ruleIds: ['dot-requal-3a-3aa'] }
    if (isStarGood(marks)) return { years: starredYears, ruleIds: ['dot-requal-3a-3aa'] }
    const { fallbackYears } = STORE_RULES['dot-requal-star-obliterated'].limits
    return {
      years: fallbackYears,
      ruleIds: ['dot-requal-star-obliterated', 'dot-requal-star-gas-list'],
    }
  }
  const limits = STORE_RULES['dot-requal-4b-family'].limits
  const isFirst = marks.last === null
  const byMethod = {
    volumetric: limits.volumetricYears,
    proof: limits.proofAfterFirst12Years,
    visual: limits.visualRepeatYears,
  }
  const isEasy = marks.service === 'noncorrosive_coated'
  const first = isEasy ? limits.volumetricYears : limits.baseYears
  const later = isEasy && marks.method ? byMethod[marks.method] : limits.baseYears
  return { years: isFirst ? first : later, ruleIds: ['dot-requal-4b-family'] }
}

/** The first acetylene dates by year of manufacture; pre-1991 shells and all filler figures partly from memory. */
function acetyleneDates(marks: CylinderMarks) {
  const { shellRepeatYears, fillerEarliestYears, fillerLatestYears } =
    STORE_RULES['dot-requal-acetylene-schedule'].limits
  const made = marks.manufactured
  const isOld = made !== null && made < '1991-01'
  const from = marks.last ?? (isOld ? null : made)
  const shellDue = from === null ? (isOld ? '2000-12' : null) : addYears(from, shellRepeatYears)
  if (made === null || marks.isFillerInspected === true)
    return { shellDue, fillerEarliest: null, fillerLatest: null }
  if (isOld) return { shellDue, fillerEarliest: null, fillerLatest: '2010-12' }
  return {
    shellDue,
    fillerEarliest: addYears(made, fillerEarliestYears),
    fillerLatest: addYears(made, fillerLatestYears),
  }
}

interface Dates {
  due: string | null
  shellDue: string | null
  fillerEarliest: string | null
  fillerLatest: string | null
  isStarVoid: boolean
  isNeverDue: boolean
  ruleIds: readonly StoreRuleId[]
}
const NO_SHELL = { shellDue: null, fillerEarliest: null, fillerLatest: null }

function datesOf(marks: CylinderMarks): Dates {
  const { spec } = marks
  if (spec === '4L' || spec === '3E')
    return {
      ...NO_SHELL,
      due: null,
      isStarVoid: false,
      isNeverDue: true,
      ruleIds: ['dot-requal-4l-none'],
    }
  if (spec === '8' || spec === '8AL') {
    const dates = acetyleneDates(marks)
    const all = [dates.shellDue, dates.fillerLatest].filter((one) => one !== null)
    return {
      ...dates,
      due: dates.shellDue === null ? null : (all.toSorted()[0] ?? null),
      isStarVoid: false,
      isNeverDue: false,
      ruleIds: ['dot-requal-acetylene', 'dot-requal-acetylene-schedule'],
    }
  }
  const { years, ruleIds } = intervalYears(marks)
  const from = marks.last ?? marks.manufactured
  return {
    ...NO_SHELL,
    due: from === null ? null : addYears(from, years),
    isStarVoid: marks.isStarred && ruleIds.includes('dot-requal-star-obliterated'),
    isNeverDue: false,
    ruleIds,
  }
}

function fillReasons(marks: CylinderMarks, dates: Dates): RequalificationReason[] {
  const month = marks.today.slice(0, 7)
  const isPast = (due: string | null) => due !== null && month > due
  const isAcetylene = marks.spec === '8' || marks.spec === '8AL'
  return [
    ...(marks.condition === 'sound' ? [] : (['condition'] as const)),
    ...(isPast(marks.serviceLifeEnds ?? null) ? (['service_life_over'] as const) : []),
    ...(dates.due === null && !dates.isNeverDue ? (['date_unknown'] as const) : []),
    ...(!isAcetylene && isPast(dates.due) ? (['past_due'] as const) : []),
    ...(isPast(dates.shellDue) ? (['shell_past_due'] as const) : []),
    ...(isPast(dates.fillerLatest) ? (['filler_past_due'] as const) : []),
  ]
}

/** Why what is left in it may not be used; a date alone never forbids that, if it was filled in time. */
function contentsReasons(
  marks: CylinderMarks,
  dates: Dates,
  toFill: readonly RequalificationReason[],
): RequalificationReason[] {
  if (marks.condition !== 'sound') return ['condition']
  if (toFill.length === 0) return []
  if (marks.filled === null || dates.due === null) return ['fill_date_unknown']
  return marks.filled <= dates.due ? [] : ['filled_after_due']
}

/**
 * When a cylinder is due, whether it may be filled, and whether what is in it may be used up. Due
 * by month, the whole month included. The condition beats every date.
 *
 * @param marks months as `YYYY-MM`; a date that is not known blocks the filling
 * @source 49 CFR 180.205 and 180.209; the 4B family and the acetylene filler are the least sure
 */
export function requalification(marks: CylinderMarks): Requalification {
  const dates = datesOf(marks)
  const toFill = fillReasons(marks, dates)
  const toUse = contentsReasons(marks, dates, toFill)
  const { isNeverDue: _, ruleIds, ...shown } = dates
  return {
    ...shown,
    mayFill: toFill.length === 0,
    mayUseContents: toUse.length === 0,
    reasons: [
      ...new Set([...toFill, ...toUse, ...(dates.isStarVoid ? (['star_void'] as const) : [])]),
    ],
    ruleIds: [
      ...ruleIds,
      'dot-requal-month',
      'dot-requal-fill-block',
      ...(marks.condition === 'sound' ? [] : (['dot-requal-condition-triggers'] as const)),
      ...(marks.condition === 'heat_damage' ? (['ifc-fire-exposed-removed'] as const) : []),
      ...(marks.serviceLifeEnds ? (['dot-service-life-limit'] as const) : []),
    ],
  }
}
