import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { PrintButton } from '@/app/(app)/permits/[permitId]/record/print-button'
import { requireViewer } from '@/lib/auth/viewer'
import { getSetUp } from '@/lib/data/set-up'
import { Card } from './card'
import './card.css'

type CardPageProps = Readonly<{
  params: Promise<{ jobId: string }>
  searchParams: Promise<{ cut?: string }>
}>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('card'))('title') }
}

export default async function CardPage({ params, searchParams }: CardPageProps) {
  const viewer = await requireViewer()
  const [{ jobId }, { cut }] = [await params, await searchParams]
  if (!cut) notFound()
  const setUp = await found(getSetUp(viewer, jobId, cut))
  const [t, jobs] = [await getTranslations('card'), await getTranslations('jobs')]
  const { job } = setUp
  const where = jobs('where', { number: job.number, title: job.title })
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: job.zone }
  return (
    <>
      <div className="not-printed">
        <PhoneHead title={t('title')} where={where} backHref={`/jobs/${job.id}`} level={2} />
        <p className="flex flex-wrap items-center gap-3 px-4 py-3 desk:px-8">
          <PrintButton kind="main">{t('print')}</PrintButton>
          <ButtonLink href={`/jobs/${job.id}`}>{t('back')}</ButtonLink>
        </p>
      </div>
      <Card setUp={setUp} where={where} prefs={prefs} />
    </>
  )
}
