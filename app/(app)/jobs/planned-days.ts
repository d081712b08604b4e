import type { useTranslations } from 'next-intl'
import { formatDay } from '@/lib/format/clock'

// Planned days are calendar days: they are kept at midnight UTC and mean the same in every zone.
const CALENDAR = { timeZone: 'UTC' } as const

export function plannedDays(
  job: Readonly<{ plannedStart: Date; plannedEnd: Date }>,
  t: ReturnType<typeof useTranslations<'jobs'>>,
): string {
  const from = formatDay(job.plannedStart, CALENDAR)
  const to = formatDay(job.plannedEnd, CALENDAR)
  return from === to ? from : t('daysRange', { from, to })
}
