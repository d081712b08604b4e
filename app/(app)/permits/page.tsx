import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { PhoneHead } from '@/app/_components/phone-head'
import { SiteSwitch } from '@/app/_components/site-switch'
import { EmptyState } from '@/app/_components/states/empty-state'
import { can } from '@/lib/access/access'
import { requireViewer } from '@/lib/auth/viewer'
import { listPermits } from '@/lib/data/permits/list'
import { resolveSite } from '@/lib/data/sites'
import { formatDayClock } from '@/lib/format/clock'
import { permitFilterSchema } from '@/lib/schemas/permit'
import { FilterNav } from './filter-nav'
import { PermitRows } from './permit-rows'
import { PermitTable } from './permit-table'

type PermitsPageProps = Readonly<{
  searchParams: Promise<{ site?: string; show?: string; after?: string }>
}>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit.list'))('heading') }
}

export default async function PermitsPage({ searchParams }: PermitsPageProps) {
  const viewer = await requireViewer()
  const { site: wanted, show, after } = await searchParams
  const t = await getTranslations('permit.list')
  const site = await found(resolveSite(viewer, wanted))
  const filter = permitFilterSchema.parse(show ?? 'now')
  const { rows, next, now } = await found(
    listPermits(viewer, { siteId: site.id, filter, after: after ?? null }),
  )
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: site.zone }
  const canPrepare = can(viewer, 'permit:prepare', site.id)
  const newHref = `/permits/new?site=${site.id}`
  const place = <SiteSwitch site={site} others={site.others} path="/permits" />
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead
        title={t('heading')}
        where={place}
        aside={<span className="type-note text-ink-2">{formatDayClock(now, prefs)}</span>}
      />
      <DeskPageHead
        title={t('heading')}
        sentence={
          <>
            {place}. {t('counted', { count: rows.length })}
          </>
        }
        actions={
          canPrepare ? (
            <ButtonLink kind="main" href={newHref}>
              {t('prepare')}
            </ButtonLink>
          ) : null
        }
      />
      <FilterNav siteId={site.id} chosen={filter} />
      {rows.length === 0 ? (
        <EmptyState title={t(`empty.${filter}`)} next={t(canPrepare ? 'emptyNext' : 'emptyWait')} />
      ) : (
        <>
          <div className="desk:hidden">
            <PermitRows rows={rows} now={now} prefs={prefs} />
          </div>
          <div className="desk-body hidden desk:block">
            <PermitTable rows={rows} now={now} prefs={prefs} />
          </div>
        </>
      )}
      {next ? (
        <p className="px-4 py-3 desk:px-8">
          <ButtonLink
            href={`/permits?site=${site.id}&show=${filter}&after=${encodeURIComponent(next)}`}
          >
            {t('older')}
          </ButtonLink>
        </p>
      ) : null}
      {canPrepare ? (
        <div className="thumb desk:hidden!">
          <ButtonLink kind="main" isWide href={newHref}>
            {t('prepare')}
          </ButtonLink>
        </div>
      ) : null}
    </PrefsProvider>
  )
}
