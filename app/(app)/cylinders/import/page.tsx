import type { Metadata } from 'next'
import Link from 'next/link'
import { getTranslations } from 'next-intl/server'
import { found } from '@/app/_components/found'
import { ListFiles } from '@/app/_components/list-files'
import { requireViewer } from '@/lib/auth/viewer'
import { listFleetImports } from '@/lib/data/fleet-import'
import { resolveSite } from '@/lib/data/sites'
import { formatDayClock } from '@/lib/format/clock'
import { GasFrame } from '../gas-frame'
import { UploadForm } from './upload-form'

type ImportPageProps = Readonly<{ searchParams: Promise<{ site?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('fleetImport'))('title') }
}

export default async function ImportPage({ searchParams }: ImportPageProps) {
  const viewer = await requireViewer()
  const t = await getTranslations('fleetImport')
  const site = await found(resolveSite(viewer, (await searchParams).site))
  const imports = await found(listFleetImports(viewer, site.id))
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
        <UploadForm siteId={site.id} />
        {imports.length > 0 ? (
          <section>
            <h2 className="type-section">{t('before')}</h2>
            <ul className="border-t-2 border-ink">
              {imports.map((one) => (
                <li key={one.id} className="flex justify-between gap-3 border-b border-rule py-2">
                  <Link
                    href={`/cylinders/import/${one.id}`}
                    className="text-ink underline decoration-cobalt underline-offset-4"
                  >
                    {one.fileName}
                  </Link>
                  <span className="type-note text-ink-2">
                    {t('rowsAt', { rows: one.rows, when: formatDayClock(one.at, prefs) })}
                  </span>
                </li>
              ))}
            </ul>
          </section>
        ) : null}
      </div>
      {imports.length > 0 ? <ListFiles lists={['importFaults']} query={{ site: site.id }} /> : null}
    </GasFrame>
  )
}
