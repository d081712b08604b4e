import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { PhoneHead } from '@/app/_components/phone-head'
import { assertCan, can } from '@/lib/access/access'
import { requireViewer } from '@/lib/auth/viewer'
import { resolveSite } from '@/lib/data/sites'
import { cylinderFilterSchema } from '@/lib/schemas/cylinder'
import { ScanList } from './scan-list'

type ScanPageProps = Readonly<{ searchParams: Promise<{ site?: string; gas?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('scan'))('title') }
}

export default async function ScanPage({ searchParams }: ScanPageProps) {
  const viewer = await requireViewer()
  const address = await searchParams
  const { gas } = cylinderFilterSchema.parse(address)
  const t = await getTranslations('scan')
  const site = await found(resolveSite(viewer, address.site))
  assertCan(viewer, 'cylinder:read', site.id)
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: site.zone }
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead title={t('title')} where={site.name} backHref={`/cylinders?site=${site.id}`} />
      <DeskPageHead title={t('title')} sentence={site.name} />
      <div className="px-4 py-3 desk:px-8">
        <ScanList
          siteId={site.id}
          wantedGas={gas}
          mayReceive={can(viewer, 'cylinder:receive', site.id)}
        />
      </div>
    </PrefsProvider>
  )
}
