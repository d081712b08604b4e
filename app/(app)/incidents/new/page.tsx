import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { getIncidentDesk } from '@/lib/data/incidents'
import { IncidentForm } from './incident-form'

type NewIncidentProps = Readonly<{
  searchParams: Promise<{ site?: string | string[]; permit?: string }>
}>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('incidents.form'))('title') }
}

export default async function NewIncidentPage({ searchParams }: NewIncidentProps) {
  const viewer = await requireViewer()
  const { site: wanted, permit: permitId } = await searchParams
  const { site, areas, outfits, permit } = await found(
    getIncidentDesk(viewer, { site: wanted, permit: permitId }),
  )
  const t = await getTranslations('incidents.form')
  const backHref = permit ? `/permits/${permit.id}` : `/incidents?site=${site.id}`
  return (
    <>
      <PhoneHead title={t('title')} where={site.name} backHref={backHref} />
      <DeskPageHead title={t('title')} sentence={site.name} />
      <div className="px-4 py-3 desk:max-w-[560px] desk:px-8">
        <p className="mb-3 font-semibold">{t('first')}</p>
        <IncidentForm areas={areas} outfits={outfits} permit={permit} />
      </div>
    </>
  )
}
