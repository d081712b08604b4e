import type { useTranslations } from 'next-intl'
import { formatDay } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { endOfDay } from './gas-bar'

const SOON_DAYS = 8

type SitesWords = ReturnType<typeof useTranslations<'sites'>>

/** When a gas is out at the chance that counts, in words; with "about", for it is a guess. */
export function outWords(
  t: SitesWords,
  { day, todayMs, prefs }: Readonly<{ day: number | null; todayMs: number; prefs: FormatPrefs }>,
): Readonly<{ words: string; isTrouble: boolean; isPast: boolean }> {
  if (day === null) return { words: t('pastHorizon'), isTrouble: false, isPast: true }
  const words = day <= 1 ? t('today') : formatDay(new Date(endOfDay(todayMs, day - 0.5)), prefs)
  return { words, isTrouble: day <= SOON_DAYS, isPast: false }
}
