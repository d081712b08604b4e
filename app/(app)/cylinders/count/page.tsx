import type { Metadata } from 'next'
import Link from 'next/link'
import { getTranslations } from 'next-intl/server'
import { found } from '@/app/_components/found'
import { ListFiles } from '@/app/_components/list-files'
import { requireViewer } from '@/lib/auth/viewer'
import { resolveSite } from '@/lib/data/sites'
import { listCounts } from '@/lib/data/stock-counts'
import { formatDayClock } from '@/lib/format/clock'
import { GasFrame } from '../gas-frame'
import { StartForm } from './start-form'

type CountsPageProps = Readonly<{ searchParams: Promise<{ site?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('stockCount'))('title') }
}

export default async function CountsPage({ searchParams }: CountsPageProps) {
  const viewer = await requireViewer()
  const t = await getTranslations('stockCount')
  const site = await found(resolveSite(viewer, (await searchParams).site))
  const counts = await found(listCounts(viewer, site.id))
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: site.zone }
  return (
    <GasFrame
      title={t('title')}
      where={site.name}
      back={`/cylinders?site=${site.id}`}
      viewer={viewer}
      zone={site.zone}
      siteId={site.id}
    >
      <div className="flex flex-col gap-6 px-4 py-3 desk:px-8">
        <p className="type-note text-ink-2">{t('what')}</p>
        <StartForm siteId={site.id} />
        {counts.length > 0 ? (
          <ul className="border-t-2 border-ink">
            {counts.map((count) => (
              <li key={count.id} className="flex justify-between gap-3 border-b border-rule py-2">
                <Link
                  href={`/cylinders/count/${count.id}`}
                  className="inline-block min-h-6 text-ink underline decoration-cobalt underline-offset-4"
                >
                  {formatDayClock(count.at, prefs)}
                </Link>
                <span className="type-note text-ink-2">
                  {t(count.isOver ? 'over' : 'running', { seen: count.seen })}
                </span>
              </li>
            ))}
          </ul>
        ) : null}
      </div>
      <ListFiles lists={['counts']} query={{ site: site.id }} />
    </GasFrame>
  )
}
