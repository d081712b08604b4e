import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { getOutsideForm } from '@/lib/data/outside'
import { resolveSite } from '@/lib/data/sites'
import { OutsideForm } from './outside-form'

type OutsidePageProps = Readonly<{
  searchParams: Promise<{ site?: string; permit?: string; from?: string }>
}>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('outside'))('title') }
}

export default async function OutsidePage({ searchParams }: OutsidePageProps) {
  const viewer = await requireViewer()
  const { site: wanted, permit, from } = await searchParams
  const site = await found(resolveSite(viewer, wanted))
  const form = await found(getOutsideForm(viewer, site.id))
  const t = await getTranslations('outside')
  const isClock = from !== undefined && /^([01]\d|2[0-3]):[0-5]\d$/.test(from)
  return (
    <PrefsProvider prefs={{ units: viewer.units, clock: viewer.clock, timeZone: site.zone }}>
      <PhoneHead
        title={t('title')}
        where={site.name}
        backHref={permit ? `/permits/${permit}` : `/today?site=${site.id}`}
      />
      <DeskPageHead title={t('title')} sentence={site.name} />
      <p className="px-4 pb-1 text-ink-2 desk:max-w-[560px] desk:px-8">{t('explain')}</p>
      <OutsideForm form={form} permitId={permit ?? null} from={isClock ? from : null} />
    </PrefsProvider>
  )
}
