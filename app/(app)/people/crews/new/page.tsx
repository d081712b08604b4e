import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { listWrittenSites } from '@/lib/data/sites'
import { CrewForm } from '../crew-form'

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('people.crewForm'))('add') }
}

export default async function NewCrewPage() {
  const viewer = await requireViewer()
  const sites = await found(listWrittenSites(viewer))
  const t = await getTranslations('people.crewForm')
  return (
    <>
      <PhoneHead title={t('add')} backHref="/people" />
      <DeskPageHead title={t('add')} />
      <div className="px-4 py-2 desk:max-w-[560px] desk:px-8">
        <CrewForm crew={null} sites={sites} />
      </div>
    </>
  )
}
