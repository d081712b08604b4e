import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { jobFormChoices } from '@/lib/data/jobs'
import { NewJobForm } from './new-job-form'

type NewJobPageProps = Readonly<{ searchParams: Promise<{ site?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  const t = await getTranslations('jobs')
  return { title: t('newJob') }
}

export default async function NewJobPage({ searchParams }: NewJobPageProps) {
  const viewer = await requireViewer()
  const { site } = await searchParams
  const choices = await found(jobFormChoices(viewer))
  const t = await getTranslations('jobs')
  const siteId = choices.sites.find((place) => place.id === site)?.id ?? choices.sites[0]?.id ?? ''
  return (
    <>
      <PhoneHead title={t('newJob')} backHref={`/cuts?site=${siteId}`} />
      <DeskPageHead title={t('newJob')} />
      <div className="px-4 py-2 desk:max-w-[560px] desk:px-8">
        <NewJobForm choices={choices} siteId={siteId} />
      </div>
    </>
  )
}
