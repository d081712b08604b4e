'use client'

import { useTranslations } from 'next-intl'
import type { Params, Reason } from '@/lib/errors'
import { formatClock } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { usePrefsOrDevice } from '../live/prefs'

export interface ReasonWords {
  readonly what: string
  readonly cure: string | undefined
  readonly citation: string | undefined
}

/** Parameters that are instants (their names end in At or AtMs) become clock times of the place. */
export function readableParams(params: Params | undefined, prefs: FormatPrefs): Record<string, string | number> {
  return Object.fromEntries(
    Object.entries(params ?? {}).map(([name, value]) =>
      typeof value === 'number' && /At(Ms)?$/.test(name) ? [name, formatClock(value, prefs)] : [name, value],
    ),
  )
}

/**
 * Words for reasons: `reasons.CODE.what` and, where there is one, `reasons.CODE.cure`; the citation
 * of a rule is `citations.RULE_ID`. Dots in an id would be paths, so they stand as underscores.
 */
export function useReasonWords(): (reason: Reason) => ReasonWords {
  const t = useTranslations()
  const prefs = usePrefsOrDevice()
  return (reason) => {
    const params = readableParams(reason.params, prefs)
    const say = (key: string) => (t.has(key as never) ? t(key as never, params as never) : undefined)
    const ruleKey = reason.ruleId?.replaceAll('.', '_')
    return {
      what: say(`reasons.${reason.code}.what`) ?? t('kit.refusal.unknown'),
      cure: say(`reasons.${reason.code}.cure`),
      citation: ruleKey ? say(`citations.${ruleKey}`) : undefined,
    }
  }
}
