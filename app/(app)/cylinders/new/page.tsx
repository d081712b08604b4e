import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { takeInChoices } from '@/lib/data/cylinders-take-in'
import { resolveSite } from '@/lib/data/sites'
import { TakeInForm } from './take-in-form'

type TakeInPageProps = Readonly<{ searchParams: Promise<{ site?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('cylinders.takeIn'))('title') }
}

export default async function TakeInPage({ searchParams }: TakeInPageProps) {
  const viewer = await requireViewer()
  const { site: wanted } = await searchParams
  const t = await getTranslations('cylinders')
  const site = await found(resolveSite(viewer, wanted))
  const choices = await found(takeInChoices(viewer, site.id))
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: site.zone }
  const named = (rows: readonly { id: string; name: string }[]) =>
    rows.map((row) => ({ value: row.id, label: row.name }))
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead
        title={t('takeIn.title')}
        where={site.name}
        backHref={`/cylinders?site=${site.id}`}
      />
      <DeskPageHead title={t('takeIn.title')} sentence={site.name} />
      <div className="px-4 py-2 desk:px-8">
        <TakeInForm
          siteId={site.id}
          sizes={choices.sizes.map((size) => ({
            value: size.id,
            label: `${t(`gas.${size.gasId}` as 'gas.oxygen')} ${size.name}`,
          }))}
          suppliers={named(choices.suppliers)}
          areas={named(choices.areas)}
          massUnit={viewer.units === 'us' ? 'lb' : 'kg'}
        />
      </div>
    </PrefsProvider>
  )
}
