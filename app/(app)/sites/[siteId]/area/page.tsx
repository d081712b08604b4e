import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { getPlace } from '@/lib/data/places'
import { AreaForm } from './area-form'

type AreaPageProps = Readonly<{
  params: Promise<{ siteId: string }>
  searchParams: Promise<{ area?: string }>
}>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('places'))('area') }
}

export default async function AreaScreen({ params, searchParams }: AreaPageProps) {
  const viewer = await requireViewer()
  const { siteId } = await params
  const { area: wanted } = await searchParams
  const { site, areas } = await found(getPlace(viewer, siteId))
  const area = areas.find((one) => one.id === wanted) ?? null
  if (wanted && !area) notFound()
  const t = await getTranslations('places')
  const title = area?.name ?? t('addArea')
  return (
    <>
      <PhoneHead title={title} where={site.name} backHref={`/sites/${site.id}`} />
      <DeskPageHead title={title} sentence={site.name} />
      <div className="px-4 py-2 desk:max-w-[560px] desk:px-8">
        <AreaForm siteId={site.id} area={area} others={areas.filter((one) => one !== area)} />
      </div>
    </>
  )
}
