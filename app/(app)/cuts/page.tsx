import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { PhoneHead } from '@/app/_components/phone-head'
import { SiteSwitch } from '@/app/_components/site-switch'
import { EmptyState } from '@/app/_components/states/empty-state'
import { can } from '@/lib/access/access'
import { requireViewer } from '@/lib/auth/viewer'
import { listJobs } from '@/lib/data/jobs'
import { resolveSite } from '@/lib/data/sites'
import { JobRows } from './job-rows'
import { JobTable } from './job-table'

type CutsPageProps = Readonly<{ searchParams: Promise<{ site?: string; after?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  const t = await getTranslations('jobs')
  return { title: t('title') }
}

export default async function CutsPage({ searchParams }: CutsPageProps) {
  const viewer = await requireViewer()
  const { site: wanted, after } = await searchParams
  const [t, reckon] = [await getTranslations('jobs'), await getTranslations('reckon')]
  const site = await found(resolveSite(viewer, wanted))
  const { jobs, next } = await found(listJobs(viewer, site.id, after ?? null))
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: site.zone }
  const newJob = can(viewer, 'job:write', site.id) ? `/jobs/new?site=${site.id}` : null
  const place = <SiteSwitch site={site} others={site.others} path="/cuts" />
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead title={t('title')} where={place} />
      <DeskPageHead
        title={t('title')}
        sentence={
          <>
            {place} {t('jobsOpen', { count: jobs.length })}
          </>
        }
        actions={
          <>
            <ButtonLink href="/reckon">{reckon('title')}</ButtonLink>
            {newJob ? (
              <ButtonLink kind="main" href={newJob}>
                {t('newJob')}
              </ButtonLink>
            ) : null}
          </>
        }
      />
      {jobs.length === 0 ? (
        <EmptyState title={t('empty')} next={newJob ? t('emptyNext') : t('emptyWait')} />
      ) : (
        <>
          <div className="desk:hidden">
            <JobRows jobs={jobs} prefs={prefs} />
          </div>
          <div className="desk-body hidden desk:block">
            <JobTable jobs={jobs} prefs={prefs} />
          </div>
        </>
      )}
      {next ? (
        <p className="px-4 py-3 desk:px-8">
          <ButtonLink href={`/cuts?site=${site.id}&after=${next}`}>{t('nextPage')}</ButtonLink>
        </p>
      ) : null}
      <div className="thumb desk:hidden!">
        <div className="thumb-row">
          {newJob ? (
            <ButtonLink kind="main" isWide href={newJob}>
              {t('newJob')}
            </ButtonLink>
          ) : null}
          <ButtonLink isWide href="/reckon">
            {reckon('title')}
          </ButtonLink>
        </div>
      </div>
    </PrefsProvider>
  )
}
