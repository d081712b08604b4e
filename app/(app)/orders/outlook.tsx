'use client'

import { useTranslations } from 'next-intl'
import { usePrefs } from '@/app/_components/live/prefs'
import { formatDay } from '@/lib/format/clock'
import { atHourOfDay } from '@/lib/format/zone'
import { endOfDay } from '../sites/gas-bar'

export type Confirmed = Readonly<{
  number: string
  outlook: readonly Readonly<{ gasId: string; before: number | null; after: number | null }>[]
}>

/** What the order changed: until when each gas lasted, and until when it lasts now. */
export function Outlook({ order, nowMs }: Readonly<{ order: Confirmed; nowMs: number }>) {
  const t = useTranslations('orders')
  const s = useTranslations('sites')
  const g = useTranslations('permit.vessel.gas')
  const prefs = usePrefs()
  const todayMs = atHourOfDay(nowMs, prefs.timeZone, 0)
  const words = (day: number | null) => {
    if (day === null) return t('pastHorizon')
    if (day <= 1) return s('today')
    return formatDay(new Date(endOfDay(todayMs, day - 0.5)), prefs)
  }
  const changed = order.outlook.filter((gas) => gas.before !== gas.after)
  return (
    <div className="border-l-4 border-ink pl-3">
      <p className="font-[650]">{t('confirmed', { number: order.number })}</p>
      {changed.map(({ gasId, before, after }) => (
        <p key={gasId}>
          {t('outlook', {
            gas: g(gasId as 'oxygen'),
            before: words(before),
            after: words(after),
          })}
        </p>
      ))}
    </div>
  )
}
