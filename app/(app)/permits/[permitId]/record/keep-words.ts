import type { PermitRecord } from '@/lib/data/records/record'
import { formatDate } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { findRule } from '@/lib/rules/catalogue'

type Words = (key: never, params?: never) => string

/** Until when the record is kept, by which text, and how far that was read; the same on screen and in the file. */
export function keepWords(
  { keep, endedAt }: Pick<PermitRecord, 'keep' | 'endedAt'>,
  t: Words,
  prefs: FormatPrefs,
): string {
  const say = (key: string, params: Record<string, string> = {}) =>
    t(`keep.${key}` as never, params as never)
  if (endedAt === null) return say('running')
  if (keep === null) return say('noTerm')
  const rule = keep.ruleId ? findRule(keep.ruleId) : null
  return say('until', {
    day: formatDate(keep.until, prefs),
    rule: rule ? rule.citation : say('company'),
    known: rule?.provenance === 'memory' ? 'memory' : 'read',
  })
}
