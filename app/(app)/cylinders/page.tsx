import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { ListFiles } from '@/app/_components/list-files'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { SectionNav } from '@/app/_components/nav/section-nav'
import { PhoneHead } from '@/app/_components/phone-head'
import { SiteSwitch } from '@/app/_components/site-switch'
import { EmptyState } from '@/app/_components/states/empty-state'
import { can } from '@/lib/access/access'
import { requireViewer } from '@/lib/auth/viewer'
import { countCylinders, listCylinders } from '@/lib/data/cylinders-list'
import { resolveSite } from '@/lib/data/sites'
import { cylinderFilterSchema } from '@/lib/schemas/cylinder'
import { CylinderFilters } from './cylinder-filters'
import { CylinderRows } from './cylinder-rows'
import { CylinderTable } from './cylinder-table'

type CylindersPageProps = Readonly<{
  searchParams: Promise<Record<string, string | string[] | undefined>>
}>

export async function generateMetadata(): Promise<Metadata> {
  const t = await getTranslations('cylinders')
  return { title: t('title') }
}

export default async function CylindersPage({ searchParams }: CylindersPageProps) {
  const viewer = await requireViewer()
  const address = await searchParams
  const filter = cylinderFilterSchema.parse(address)
  const t = await getTranslations('cylinders')
  const site = await found(resolveSite(viewer, address.site))
  const [page, counts] = await found(
    Promise.all([listCylinders(viewer, site.id, filter), countCylinders(viewer, site.id)]),
  )
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: site.zone }
  const receive = can(viewer, 'cylinder:receive', site.id)
    ? `/deliveries/new?site=${site.id}`
    : null
  const place = <SiteSwitch site={site} others={site.others} path="/cylinders" />
  const all = counts.reduce((sum, row) => sum + row.count, 0)
  const kept = new URLSearchParams({
    site: site.id,
    ...(filter.gas ? { gas: filter.gas } : {}),
    ...(filter.status ? { status: filter.status } : {}),
    ...(filter.part ? { part: filter.part } : {}),
  })
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead
        title={t('title')}
        where={place}
        aside={
          <ButtonLink isRow href={`/cylinders/scan?site=${site.id}`}>
            {t('scan')}
          </ButtonLink>
        }
      />
      <DeskPageHead
        title={t('title')}
        sentence={
          <>
            {place}. {t('onSite', { count: all })}
          </>
        }
        actions={
          receive ? (
            <>
              <ButtonLink href={`/cylinders/scan?site=${site.id}`}>{t('scan')}</ButtonLink>
              <ButtonLink kind="main" href={receive}>
                {t('receive')}
              </ButtonLink>
            </>
          ) : null
        }
      />
      <SectionNav section="gas" viewer={viewer} siteId={site.id} />
      <CylinderFilters counts={counts} filter={filter} siteId={site.id} />
      {page.cylinders.length === 0 ? (
        <EmptyState
          title={t(all === 0 ? 'empty' : 'noneMatch')}
          next={t(all === 0 ? 'emptyNext' : 'noneMatchNext')}
        />
      ) : (
        <>
          <div className="desk:hidden">
            <CylinderRows cylinders={page.cylinders} prefs={prefs} now={page.now} />
          </div>
          <div className="desk-body hidden desk:block">
            <CylinderTable cylinders={page.cylinders} prefs={prefs} now={page.now} />
          </div>
        </>
      )}
      <ListFiles lists={['cylinders']} query={Object.fromEntries(kept)} />
      <ListFiles lists={['entries']} query={{ site: site.id }} />
      {page.next ? (
        <p className="px-4 py-3 desk:px-8">
          <ButtonLink href={`/cylinders?${kept}&after=${encodeURIComponent(page.next)}`}>
            {t('nextPage')}
          </ButtonLink>
        </p>
      ) : null}
      {receive ? (
        <div className="thumb desk:hidden!">
          <ButtonLink kind="main" isWide href={receive}>
            {t('receive')}
          </ButtonLink>
        </div>
      ) : null}
    </PrefsProvider>
  )
}
