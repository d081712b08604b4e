import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { crewInput } from '@/lib/data/estimates'
import { getJob } from '@/lib/data/jobs'
import { rowFrom } from './cells-from'
import { EstimateSheet } from './sheet'
import '../cut-form.css'
import './sheet.css'

type SheetPageProps = Readonly<{ params: Promise<{ jobId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('sheet'))('title') }
}

export default async function SheetPage({ params }: SheetPageProps) {
  const viewer = await requireViewer()
  const job = await found(getJob(viewer, (await params).jobId))
  if (!job.mayWrite || !job.list) notFound()
  const [t, jobs] = [await getTranslations('sheet'), await getTranslations('jobs')]
  const { list } = job
  const where = jobs('where', { number: job.number, title: job.title })
  const burns = t('burns', {
    fuel: jobs(`gas.${list.fuel}` as 'gas.propane'),
    process: jobs(`processes.${list.process}`),
  })
  const sentence = (
    <>
      {where}. {burns}{' '}
      <Link className="text-link inline-block min-h-6" href={`/jobs/${job.id}/edit`}>
        {t('changeFuel')}
      </Link>
    </>
  )
  return (
    <PrefsProvider prefs={{ units: viewer.units, clock: viewer.clock, timeZone: job.zone }}>
      <PhoneHead title={t('title')} where={sentence} backHref={`/jobs/${job.id}`} />
      <DeskPageHead title={t('title')} sentence={sentence} />
      <div className="desk:px-8">
        <EstimateSheet
          cutListId={list.id}
          start={list.cuts.map((cut) => rowFrom(cut, viewer))}
          fuel={list.fuel}
          process={list.process}
          list={{
            fuel: list.fuel,
            ...list.settings,
            ...(job.chart ? { tipChart: job.chart } : {}),
            ...crewInput(list.estimate.crew),
          }}
          crew={list.estimate.crew}
        />
      </div>
    </PrefsProvider>
  )
}
