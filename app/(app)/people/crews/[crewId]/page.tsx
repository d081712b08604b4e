import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { getCrew } from '@/lib/data/crews'
import { listWrittenSites } from '@/lib/data/sites'
import { CrewForm } from '../crew-form'
import { MemberForms } from './member-forms'

type CrewPageProps = Readonly<{ params: Promise<{ crewId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('people.crewForm'))('title') }
}

export default async function CrewScreen({ params }: CrewPageProps) {
  const viewer = await requireViewer()
  const { crewId } = await params
  const crew = await found(getCrew(viewer, crewId))
  const sites = await found(listWrittenSites(viewer))
  const t = await getTranslations('people.crewForm')
  return (
    <>
      <PhoneHead title={crew.name} where={t('title')} backHref="/people" />
      <DeskPageHead title={crew.name} sentence={t('title')} />
      <div className="grid gap-10 px-4 py-2 desk:max-w-[1000px] desk:grid-cols-2 desk:px-8">
        <CrewForm crew={crew} sites={sites} />
        <MemberForms crew={crew} />
      </div>
    </>
  )
}
