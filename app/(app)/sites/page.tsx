import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DayClock } from '@/app/_components/day-clock'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { PhoneHead } from '@/app/_components/phone-head'
import { EmptyState } from '@/app/_components/states/empty-state'
import { frameFor } from '@/lib/auth/frame'
import { requireViewer } from '@/lib/auth/viewer'
import { getFleet } from '@/lib/data/fleet'
import { BarsKey } from './bars-key'
import { GasSheet } from './gas-sheet'
import { PermitSheet } from './permit-sheet'
import { PhoneSites } from './phone-sites'
import { TroubleWords } from './trouble-words'

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('sites'))('title') }
}

export default async function SitesPage() {
  const viewer = await requireViewer()
  const t = await getTranslations('sites')
  const [company, { now, sites, troubles }] = await Promise.all([
    frameFor(viewer),
    getFleet(viewer),
  ])
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: company.timeZone }
  const words = <TroubleWords troubles={troubles} now={now} prefs={prefs} />
  if (sites.length === 0) return <EmptyState isPage title={t('none')} next={t('noneNext')} />
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead title={t('title')} aside={<DayClock now={now} prefs={prefs} />} />
      <p className="border-b-2 border-ink px-4 pb-3 desk:hidden">{words}</p>
      <DeskPageHead
        title={t('title')}
        sentence={words}
        actions={<DayClock now={now} prefs={prefs} />}
      />
      <div className="desk:hidden">
        <PhoneSites sites={sites} now={now} prefs={prefs} />
      </div>
      <div className="desk-body hidden gap-8 desk:grid wide:grid-cols-[minmax(0,13fr)_minmax(0,8fr)]">
        <PermitSheet sites={sites} now={now} prefs={prefs} />
        <GasSheet sites={sites} now={now} prefs={prefs} />
      </div>
      <div className="hidden desk:block">
        <BarsKey />
      </div>
    </PrefsProvider>
  )
}
