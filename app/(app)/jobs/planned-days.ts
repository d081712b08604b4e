import type { useTranslations } from 'next-intl'
import { formatDay } from '@/lib/format/clock'

// Planned days are calendar days: they are kept at midnight UTC and mean the same in every zone.
const CALENDAR = { timeZone: 'UTC' } as const

/** "23 Nov": of a span of days the weekdays are noise on a phone. */
const withoutWeekday = (day: Date) => formatDay(day, CALENDAR).replace(/^\S+ /, '')

export function plannedDays(
  job: Readonly<{ plannedStart: Date; plannedEnd: Date }>,
  t: ReturnType<typeof useTranslations<'jobs'>>,
): string {
  const [from, to] = [withoutWeekday(job.plannedStart), withoutWeekday(job.plannedEnd)]
  return from === to ? from : t('daysRange', { from, to })
}
