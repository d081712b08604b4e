import type { Metadata } from 'next'
import Link from 'next/link'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { ListFiles } from '@/app/_components/list-files'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { SectionNav } from '@/app/_components/nav/section-nav'
import { PhoneHead } from '@/app/_components/phone-head'
import { SiteSwitch } from '@/app/_components/site-switch'
import { EmptyState } from '@/app/_components/states/empty-state'
import { requireViewer } from '@/lib/auth/viewer'
import { listDeliveries } from '@/lib/data/deliveries-differences'
import { resolveSite } from '@/lib/data/sites'
import { formatDayClock } from '@/lib/format/clock'

type DeliveriesPageProps = Readonly<{ searchParams: Promise<{ site?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('deliveries'))('list') }
}

export default async function DeliveriesPage({ searchParams }: DeliveriesPageProps) {
  const viewer = await requireViewer()
  const t = await getTranslations('deliveries')
  const site = await found(resolveSite(viewer, (await searchParams).site))
  const deliveries = await found(listDeliveries(viewer, site.id))
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: site.zone }
  const place = <SiteSwitch site={site} others={site.others} path="/deliveries" />
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead title={t('list')} where={place} backHref={`/cylinders?site=${site.id}`} />
      <DeskPageHead title={t('list')} sentence={place} />
      <SectionNav section="gas" viewer={viewer} siteId={site.id} />
      {deliveries.length === 0 ? (
        <EmptyState title={t('noneYet')} next={t('noneYetNext')} />
      ) : (
        <ul className="mx-4 border-t-2 border-ink desk:mx-8">
          {deliveries.map((row) => (
            <li key={row.id} className="flex justify-between gap-3 border-b border-rule py-2">
              <Link
                href={`/deliveries/${row.id}`}
                className="inline-block min-h-6 text-ink underline decoration-cobalt underline-offset-4"
              >
                {row.orderNumber ? t('ofOrder', { number: row.orderNumber }) : t('withoutOrder')},{' '}
                {row.supplierName}
              </Link>
              <span className={row.open > 0 ? 'trouble' : 'type-note text-ink-2'}>
                {row.open > 0
                  ? t('toSettle', { count: row.open })
                  : formatDayClock(row.receivedAt, prefs)}
              </span>
            </li>
          ))}
        </ul>
      )}
      <ListFiles lists={['deliveries', 'differences']} query={{ site: site.id }} />
    </PrefsProvider>
  )
}
