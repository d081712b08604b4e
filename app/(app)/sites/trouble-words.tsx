import { getTranslations } from 'next-intl/server'
import type { FleetTrouble } from '@/lib/data/fleet'
import { formatClock, formatDay } from '@/lib/format/clock'
import { formatDuration } from '@/lib/format/duration'
import type { FormatPrefs } from '@/lib/format/prefs'
import { atHourOfDay } from '@/lib/format/zone'
import { endOfDay } from './gas-bar'

const SAID = 2

/** The one or two things that need someone, the most pressing in bold. */
export async function TroubleWords({
  troubles,
  now,
  prefs,
}: Readonly<{ troubles: readonly FleetTrouble[]; now: Date; prefs: FormatPrefs }>) {
  const t = await getTranslations('sites')
  const g = await getTranslations('permit.vessel.gas')
  const todayMs = atHourOfDay(now.getTime(), prefs.timeZone, 0)
  const say = (one: FleetTrouble): string => {
    if (one.kind === 'short')
      return t('trouble.short', {
        site: one.siteName,
        gas: g(one.gasId as 'oxygen').toLowerCase(),
        day:
          one.day <= 1 ? t('today') : formatDay(new Date(endOfDay(todayMs, one.day - 0.5)), prefs),
      })
    if (one.kind === 'nobody')
      return t('trouble.nobody', {
        site: one.siteName,
        number: one.number,
        time: formatClock(one.since, prefs),
      })
    const ago = formatDuration(now.getTime() - one.endedAt.getTime())
    const time = formatClock(one.endedAt, prefs)
    return one.kind === 'unsigned'
      ? t('trouble.unsigned', { site: one.siteName, time, ago })
      : t('trouble.ended', { site: one.siteName, number: one.number, time, ago })
  }
  const [first, ...others] = troubles.slice(0, SAID)
  if (!first) return t('trouble.none')
  return (
    <>
      <b>{say(first)}</b> {others.map(say).join(' ')}
    </>
  )
}
