import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { PhoneHead } from '@/app/_components/phone-head'
import { PlainRow } from '@/app/_components/row'
import { EmptyState } from '@/app/_components/states/empty-state'
import { can } from '@/lib/access/access'
import { requireViewer } from '@/lib/auth/viewer'
import { listJobsForPermit, type PrepareChoices, prepareChoices } from '@/lib/data/permits/prepare'
import { resolveSite } from '@/lib/data/sites'
import { localClock } from '@/lib/format/local-time'
import { PrepareForm } from './prepare-form'

type NewPermitPageProps = Readonly<{ searchParams: Promise<{ job?: string; site?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('permit.prepare'))('title') }
}

export default async function NewPermitPage({ searchParams }: NewPermitPageProps) {
  const viewer = await requireViewer()
  const { job, site: wanted } = await searchParams
  if (!job) return <ChooseJob wanted={wanted} />
  const t = await getTranslations('permit.prepare')
  const choices = await found(prepareChoices(viewer, job))
  if (!can(viewer, 'permit:prepare', choices.site.id)) notFound()
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: choices.site.zone }
  const where = t('where2', {
    number: choices.job.number,
    title: choices.job.title,
    site: choices.site.name,
  })
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead title={t('title')} where={where} backHref={`/permits?site=${choices.site.id}`} />
      <DeskPageHead title={t('title')} sentence={where} />
      <PrepareForm {...formOptions(choices, t)} />
    </PrefsProvider>
  )
}

type Words = Awaited<ReturnType<typeof getTranslations<'permit.prepare'>>>

function formOptions(
  { job, site, now, today, areas, cutLists, outfits, hands }: PrepareChoices,
  t: Words,
) {
  const named = (kind: string) =>
    hands
      .filter((hand) => hand.qualifiedAs.includes(kind))
      .map(({ id, name }) => ({ value: id, label: name }))
  const from = localClock(now, site.zone)
  return {
    jobId: job.id,
    mayBeAlone: site.loneOperator,
    cutLists: cutLists.map(({ id, title }) => ({ value: id, label: title })),
    areas: areas.map(({ id, name, areaClass }) => ({
      value: id,
      label: areaClass === 'permit' ? name : t(`areaClass.${areaClass as 'designated'}`, { name }),
    })),
    outfits: outfits.map(({ id, number, isInService }) => ({
      value: id,
      label: t(isInService ? 'outfitOption' : 'outfitOut', { number }),
    })),
    operators: named('torch_operator'),
    watchers: named('fire_watch'),
    day: today,
    from,
    // After the shift there is no default that is not a guess; the box stays empty.
    until: site.shiftEnds > from ? site.shiftEnds : '',
  }
}

async function ChooseJob({ wanted }: Readonly<{ wanted: string | undefined }>) {
  const viewer = await requireViewer()
  const t = await getTranslations('permit.prepare')
  const site = await found(resolveSite(viewer, wanted))
  if (!can(viewer, 'permit:prepare', site.id)) notFound()
  const jobs = await listJobsForPermit(viewer, site.id)
  return (
    <>
      <PhoneHead title={t('title')} where={site.name} backHref={`/permits?site=${site.id}`} />
      <DeskPageHead title={t('title')} sentence={t('whichJob')} />
      {jobs.length === 0 ? (
        <EmptyState title={t('noJobs')} next={t('noJobsNext')} />
      ) : (
        <ul className="plain-rows border-t border-rule desk:max-w-[560px] desk:px-8">
          {jobs.map((job) => (
            <PlainRow
              key={job.id}
              href={`/permits/new?job=${job.id}`}
              title={t('jobRow', { number: job.number, title: job.title })}
            />
          ))}
        </ul>
      )}
    </>
  )
}
