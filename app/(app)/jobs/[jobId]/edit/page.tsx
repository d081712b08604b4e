import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { getJob, jobFormChoices } from '@/lib/data/jobs'
import { CutListForm } from './cut-list-form'
import { EditJobForm } from './edit-job-form'
import '../cut-form.css'

type EditPageProps = Readonly<{ params: Promise<{ jobId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  const t = await getTranslations('jobs')
  return { title: t('editJob') }
}

export default async function EditJobPage({ params }: EditPageProps) {
  const viewer = await requireViewer()
  const { jobId } = await params
  const job = await found(getJob(viewer, jobId))
  if (!job.mayWrite) notFound()
  const { crews } = await found(jobFormChoices(viewer))
  const t = await getTranslations('jobs')
  const where = t('where', { number: job.number, title: job.title })
  const day = (date: Date) => date.toISOString().slice(0, 10)
  return (
    <>
      <PhoneHead title={t('editJob')} where={where} backHref={`/jobs/${job.id}`} />
      <DeskPageHead title={t('editJob')} sentence={where} />
      <div className="gap-x-12 px-4 py-2 desk:grid desk:max-w-[1180px] desk:grid-cols-2 desk:px-8">
        {job.list ? (
          <CutListForm
            cutListId={job.list.id}
            version={job.list.version}
            fuel={job.list.fuel}
            process={job.list.process}
            settings={job.list.settings}
          />
        ) : null}
        <EditJobForm
          job={{
            id: job.id,
            version: job.version,
            title: job.title,
            crewId: job.crewId ?? '',
            plannedStart: day(job.plannedStart),
            plannedEnd: day(job.plannedEnd),
            chancePercent: String(Math.round(job.chanceToRun * 100)),
          }}
          crews={[
            ...(job.crewId ? [{ id: job.crewId, name: job.crewName ?? '' }] : []),
            ...crews.filter((crew) => crew.siteId === job.siteId && crew.id !== job.crewId),
          ]}
        />
      </div>
    </>
  )
}
