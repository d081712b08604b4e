import type { RuleId } from './catalogue'
import type { Resolved } from './types'

const HOUR_MS = 3_600_000

/** Terms in years that follow from what a record holds, and not from which layers are in force. */
const YEARS = {
  /** Cancelled entry permits. @source 29 CFR 1926.1205(f), read */
  entryPermit: { years: 1, ruleId: 'osha-cs-permit-1y' },
  /** Measurements of what people breathed. @source 29 CFR 1910.1020(d)(1)(ii), from memory */
  toxicReading: { years: 30, ruleId: 'osha-exposure-records-30y' },
} as const satisfies Record<string, { years: number; ruleId: RuleId }>

export interface RetentionInput {
  /** When the permit was closed or withdrawn. */
  endedAt: Date
  keepRecordsHours: Resolved<number | null>
  hasEntryPermit: boolean
  /** Carbon monoxide or hydrogen sulfide was read. */
  hasToxicReading: boolean
}

export interface Retention {
  until: Date
  /** The rule with the longest term; null: the house's own number. */
  ruleId: string | null
}

function yearsAfter(at: Date, years: number): Date {
  const later = new Date(at)
  later.setUTCFullYear(at.getUTCFullYear() + years)
  return later
}

/**
 * Until when a permit's record must be kept: the longest of all terms that apply, and whose it is.
 *
 * @returns null where no text in force and nothing in the record sets a term
 */
export function keepUntil(input: RetentionInput): Retention | null {
  const { endedAt, keepRecordsHours, hasEntryPermit, hasToxicReading } = input
  const byYears = ({ years, ruleId }: (typeof YEARS)[keyof typeof YEARS]): Retention => ({
    until: yearsAfter(endedAt, years),
    ruleId,
  })
  const terms: Retention[] = [
    ...(keepRecordsHours.value === null
      ? []
      : [
          {
            until: new Date(endedAt.getTime() + keepRecordsHours.value * HOUR_MS),
            ruleId: keepRecordsHours.setBy.find((one) => one.ruleId !== null)?.ruleId ?? null,
          },
        ]),
    ...(hasEntryPermit ? [byYears(YEARS.entryPermit)] : []),
    ...(hasToxicReading ? [byYears(YEARS.toxicReading)] : []),
  ]
  return terms.toSorted((a, b) => b.until.getTime() - a.until.getTime())[0] ?? null
}
