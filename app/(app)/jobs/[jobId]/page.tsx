import type { Metadata } from 'next'
import Link from 'next/link'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { PhoneHead } from '@/app/_components/phone-head'
import { EmptyState } from '@/app/_components/states/empty-state'
import { requireViewer } from '@/lib/auth/viewer'
import { getJobCost } from '@/lib/data/costs'
import { listKeptEstimates } from '@/lib/data/estimates-kept'
import { getJob, type JobDetail } from '@/lib/data/jobs'
import { plannedDays } from '../planned-days'
import { CoatingsBeside } from './coatings-beside'
import { CutRows } from './cut-rows'
import { EstimateTotals } from './estimate-totals'
import { JobCosts } from './job-costs'
import { KeepForm } from './keep-form'
import { KeptEstimates } from './kept-estimates'
import { SetUpCard } from './set-up-card'
import { SupplyFacts } from './supply-facts'
import './cut-form.css'

type JobPageProps = Readonly<{
  params: Promise<{ jobId: string }>
  searchParams: Promise<{ from?: string }>
}>

export async function generateMetadata(): Promise<Metadata> {
  const t = await getTranslations('jobs')
  return { title: t('cutList') }
}

export default async function JobPage({ params, searchParams }: JobPageProps) {
  const viewer = await requireViewer()
  const [{ jobId }, { from = '0' }] = [await params, await searchParams]
  const job = await found(getJob(viewer, jobId))
  const [kept, costs] = await Promise.all([
    listKeptEstimates(viewer, job),
    getJobCost(viewer, job.id),
  ])
  const [t, sheetWords] = [await getTranslations('jobs'), await getTranslations('sheet')]
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: job.zone }
  const estimate = job.list?.estimate
  const where = t('where', { number: job.number, title: job.title })
  const when = `${plannedDays(job, t)}${job.crewName ? `, ${job.crewName}` : ''}`
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead title={t('cutList')} where={where} backHref={`/cuts?site=${job.siteId}`} />
      <DeskPageHead
        title={where}
        sentence={t('deskSentence', { site: job.siteName, when })}
        actions={<DeskActions job={job} />}
      />
      <div className="desk:grid desk:grid-cols-[minmax(0,3fr)_minmax(0,2fr)] desk:gap-x-12 desk:px-8">
        <div>
          {estimate && job.list ? (
            <EstimateTotals estimate={estimate} fuel={job.list.fuel} prefs={prefs} />
          ) : null}
          {job.list ? (
            <CoatingsBeside
              coatings={job.list.cuts
                .filter((cut) => cut.doneCount < cut.count)
                .map((cut) => cut.coating)}
            />
          ) : null}
          {job.list && job.list.cuts.length > 0 && estimate ? (
            <CutRows
              job={job}
              list={job.list}
              prefs={prefs}
              from={/^\d{1,5}$/.test(from) ? Number(from) : 0}
            />
          ) : (
            <EmptyState title={t('noCuts')} next={t(job.mayWrite ? 'noCutsNext' : 'noCutsWait')} />
          )}
        </div>
        <div>
          {estimate?.result && job.list ? (
            <SupplyFacts
              job={job}
              result={estimate.result}
              estimate={estimate}
              fuel={job.list.fuel}
              prefs={prefs}
            />
          ) : null}
          {job.mayKeep && estimate?.result && job.list ? (
            <KeepForm cutListId={job.list.id} />
          ) : null}
          <KeptEstimates kept={kept} prefs={prefs} />
          <JobCosts costs={costs} />
          {job.mayWrite ? (
            <p className="flex flex-wrap gap-x-6 border-b border-rule px-4 py-3 desk:hidden">
              <Link className="text-link inline-block min-h-6" href={`/jobs/${job.id}/sheet`}>
                {sheetWords('open')}
              </Link>
              <Link className="text-link inline-block min-h-6" href={`/jobs/${job.id}/edit`}>
                {t('editJob')}
              </Link>
            </p>
          ) : null}
          <SetUpCard fuel={job.list?.fuel ?? 'acetylene'} />
        </div>
      </div>
      <PhoneActions job={job} />
    </PrefsProvider>
  )
}

async function DeskActions({ job }: Readonly<{ job: JobDetail }>) {
  const [t, sheetWords] = [await getTranslations('jobs'), await getTranslations('sheet')]
  return (
    <>
      {job.mayWrite ? <ButtonLink href={`/jobs/${job.id}/edit`}>{t('editJob')}</ButtonLink> : null}
      {job.mayWrite ? (
        <ButtonLink href={`/jobs/${job.id}/sheet`}>{sheetWords('open')}</ButtonLink>
      ) : null}
      {job.mayPrepare ? (
        <ButtonLink href={`/permits/new?job=${job.id}`}>{t('preparePermit')}</ButtonLink>
      ) : null}
      {job.mayWrite ? (
        <ButtonLink kind="main" href={`/jobs/${job.id}/cut`}>
          {t('addCut')}
        </ButtonLink>
      ) : null}
    </>
  )
}

async function PhoneActions({ job }: Readonly<{ job: JobDetail }>) {
  const t = await getTranslations('jobs')
  if (!job.mayWrite && !job.mayPrepare) return null
  return (
    <div className="thumb sticky bottom-0 z-10 bg-paper desk:hidden!">
      <div className="thumb-row">
        {job.mayWrite ? (
          <ButtonLink kind="main" isWide href={`/jobs/${job.id}/cut`}>
            {t('addCut')}
          </ButtonLink>
        ) : null}
        {job.mayPrepare ? (
          <ButtonLink isWide href={`/permits/new?job=${job.id}`}>
            {t('preparePermit')}
          </ButtonLink>
        ) : null}
      </div>
    </div>
  )
}
