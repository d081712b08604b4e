import { useTranslations } from 'next-intl'
import type { Params, Reason } from '@/lib/errors'
import { formatClock } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { zoneOffsetMs } from '@/lib/format/zone'
import { findRule } from '@/lib/rules/catalogue'
import { usePrefsOrDevice } from '../live/prefs'

export interface ReasonWords {
  readonly what: string
  readonly cure: string | undefined
  readonly citation: string | undefined
}

/** What both `useTranslations()` and `getTranslations()` give, for keys that are known only at run time. */
export interface Say {
  (key: never, values?: never): string
  has: (key: never) => boolean
}

/** No number in a reason but an instant in milliseconds is as large as this (1 January 2001). */
const FIRST_INSTANT_MS = 978_307_200_000

/**
 * Parameters that are instants become clock times of the place: names that end in At or AtMs as
 * text, others as the moment at which UTC, which messages format in, shows the place's clock.
 */
export function readableParams(
  params: Params | undefined,
  prefs: FormatPrefs,
): Record<string, string | number> {
  return Object.fromEntries(
    Object.entries(params ?? {}).map(([name, value]) => {
      if (typeof value !== 'number' || value < FIRST_INSTANT_MS) return [name, value]
      if (/At(Ms)?$/.test(name)) return [name, formatClock(value, prefs)]
      return [name, value + zoneOffsetMs(value, prefs.timeZone)]
    }),
  )
}

/** Where words for reasons stand as one text: what it is, then what cures it. */
const AS_ONE_TEXT = ['permitReasons', 'refusals', 'permit.reasons', 'rules.problems'] as const

/** Parameters that are codes of the rules, and where their words stand. */
const NAMED: Readonly<Record<string, readonly string[]>> = {
  name: ['rules.parameters'],
  layer: ['rules.layers'],
  probe: ['rules.probes'],
  what: ['rules.loosens', 'rules.parameters', 'precautions'],
}

/** The same parameters with words for layers, values and cases instead of their codes. */
export function namedParams(t: Say, params: Params): Params {
  return Object.fromEntries(
    Object.entries(params).map(([key, value]) => {
      const place = NAMED[key]?.find((one) => t.has(`${one}.${value}` as never))
      return [key, place ? t(`${place}.${value}` as never) : value]
    }),
  )
}

/** The first sentence says what, the rest what cures it. */
function parted(text: string): Pick<ReasonWords, 'what' | 'cure'> {
  const end = /[.:]\s(?=[A-Z])/.exec(text)
  if (!end) return { what: text, cure: undefined }
  return { what: text.slice(0, end.index + 1), cure: text.slice(end.index + 2) }
}

/**
 * Words for a reason: `reasons.CODE.what` and `.cure`, else one text under the code of the part
 * that refused. The citation is that of the rule it rests on.
 */
export function sayReason(t: Say, prefs: FormatPrefs, reason: Reason): ReasonWords {
  const params = readableParams(reason.params, prefs)
  const say = (key: string) => (t.has(key as never) ? t(key as never, params as never) : undefined)
  const citation = findRule(reason.ruleId ?? null)?.citation
  const what = say(`reasons.${reason.code}.what`)
  if (what) return { what, cure: say(`reasons.${reason.code}.cure`), citation }
  for (const place of AS_ONE_TEXT) {
    const key = `${place}.${reason.code}`
    const named = place === 'rules.problems' ? namedParams(t, params) : params
    const text = t.has(key as never) ? t(key as never, named as never) : undefined
    if (text) return { ...parted(text), citation }
  }
  return { what: t('kit.refusal.unknown' as never), cure: undefined, citation }
}

/** Several rules may refuse the same thing: it is said once, with every citation. */
export function onceEach(said: readonly ReasonWords[]): ReasonWords[] {
  const textOf = ({ what, cure }: ReasonWords) => `${what} ${cure ?? ''}`
  const texts = [...new Set(said.map(textOf))]
  return texts.flatMap((text) => {
    const same = said.filter((one) => textOf(one) === text)
    const citations = [
      ...new Set(same.map((one) => one.citation).filter((one) => one !== undefined)),
    ]
    return same
      .slice(0, 1)
      .map((one) => ({ ...one, citation: citations.length > 0 ? citations.join('. ') : undefined }))
  })
}

export function useReasonWords(): (reason: Reason) => ReasonWords {
  const t = useTranslations()
  const prefs = usePrefsOrDevice()
  return (reason) => sayReason(t as Say, prefs, reason)
}
