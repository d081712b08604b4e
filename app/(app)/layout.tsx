import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'
import { frameFor } from '@/lib/auth/frame'
import { requireViewer } from '@/lib/auth/viewer'
import { GoingOn } from '../_components/live/going-on'
import { LiveRefresh } from '../_components/live/live-refresh'
import { OfflineStrip } from '../_components/live/offline-strip'
import { PrefsProvider } from '../_components/live/prefs'
import { ServerNow } from '../_components/live/server-now'
import { DeskHead } from '../_components/nav/desk-head'
import { PhoneBar } from '../_components/nav/phone-bar'
import { CrewAlarm } from './crew-alarm'

/** What every signed-in screen has around it. Access is checked by the pages' own reads, not here. */
export default async function AppLayout({ children }: Readonly<{ children: ReactNode }>) {
  const viewer = await requireViewer()
  const company = await frameFor(viewer)
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: company.timeZone }
  return (
    <PrefsProvider prefs={prefs}>
      <ServerNow serverNowMs={company.nowMs}>
        <div className="app-shell">
          <SkipLink />
          <OfflineStrip />
          <CrewAlarm />
          <DeskHead personName={viewer.name} companyName={company.name} />
          <GoingOn />
          <main id="main" className="app-main">
            {children}
          </main>
          <PhoneBar />
        </div>
        <LiveRefresh />
      </ServerNow>
    </PrefsProvider>
  )
}

function SkipLink() {
  const t = useTranslations('nav')
  return (
    <a href="#main" className="skip-link">
      {t('skip')}
    </a>
  )
}
