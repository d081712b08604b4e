import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { frameFor } from '@/lib/auth/frame'
import { requireViewer } from '@/lib/auth/viewer'
import { listWrittenSites } from '@/lib/data/sites'
import { zoneNames } from '@/lib/format/zone'
import { SiteForm } from '../site-form'

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('places'))('add') }
}

export default async function NewSitePage() {
  const viewer = await requireViewer()
  const likes = await found(listWrittenSites(viewer))
  const { timeZone } = await frameFor(viewer)
  const t = await getTranslations('places')
  return (
    <>
      <PhoneHead title={t('add')} backHref="/people" />
      <DeskPageHead title={t('add')} />
      <div className="px-4 py-2 desk:max-w-[560px] desk:px-8">
        <SiteForm site={null} likes={likes} zones={zoneNames(timeZone)} firstZone={timeZone} />
      </div>
    </>
  )
}
