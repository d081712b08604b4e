'use client'

import { useTranslations } from 'next-intl'
import { formatClock } from '@/lib/format/clock'
import { usePrefs } from './prefs'
import { useOfflineSince } from './use-online'

/** On top of everything while there is no signal. Nothing waits on the phone: what needs saying is said by voice. */
export function OfflineStrip() {
  const t = useTranslations('kit.offline')
  const prefs = usePrefs()
  const since = useOfflineSince()
  return (
    <div role="status">
      {since === null ? null : (
        <p className="offline-strip">
          <b>{t('since', { time: formatClock(since, prefs) })}</b>
          <span>{t('nothingSent')}</span>
        </p>
      )}
    </div>
  )
}
