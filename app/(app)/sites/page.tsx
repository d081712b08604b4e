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
import { fleetFilterSchema } from '@/lib/schemas/permit'
import { BarsKey } from './bars-key'
import { FleetFilters } from './fleet-filters'
import { FleetSheets } from './fleet-sheets'
import { OtherSites } from './other-sites'
import { TroubleWords } from './trouble-words'

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('sites'))('title') }
}

type SitesPageProps = Readonly<{
  searchParams: Promise<{ all?: string | string[]; show?: string | string[] }>
}>

export default async function SitesPage({ searchParams }: SitesPageProps) {
  const { all, show } = await searchParams
  const filter = fleetFilterSchema.parse(show ?? 'all')
  const viewer = await requireViewer()
  const t = await getTranslations('sites')
  const [company, { now, sites, others, unseen, troubles }] = await Promise.all([
    frameFor(viewer),
    getFleet(viewer, { isAllDrawn: all !== undefined, show: filter }),
  ])
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: company.timeZone }
  const words = <TroubleWords troubles={troubles} now={now} prefs={prefs} />
  if (sites.length === 0 && filter === 'all')
    return <EmptyState isPage title={t('none')} next={t('noneNext')} />
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead title={t('title')} aside={<DayClock now={now} prefs={prefs} />} />
      <p className="border-b-2 border-ink px-4 pb-3 desk:hidden">{words}</p>
      <DeskPageHead
        title={t('title')}
        sentence={words}
        actions={<DayClock now={now} prefs={prefs} />}
      />
      <FleetFilters chosen={filter} />
      {sites.length === 0 ? <p className="px-4 py-3 desk:px-8">{t('noneShown')}</p> : null}
      <FleetSheets sites={sites} now={now} prefs={prefs} />
      <OtherSites others={others} unseen={unseen} now={now} prefs={prefs} />
      <div className="hidden desk:block">
        <BarsKey />
      </div>
    </PrefsProvider>
  )
}
