import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { getJob } from '@/lib/data/jobs'
import { CutForm } from './cut-form'
import { RemoveCutForm } from './remove-cut-form'
import { typedFrom } from './typed-from'
import '../cut-form.css'

type CutPageProps = Readonly<{
  params: Promise<{ jobId: string }>
  searchParams: Promise<{ cut?: string }>
}>

export async function generateMetadata({ searchParams }: CutPageProps): Promise<Metadata> {
  const t = await getTranslations('jobs')
  return { title: t((await searchParams).cut ? 'changeCut' : 'addCut') }
}

export default async function CutPage({ params, searchParams }: CutPageProps) {
  const viewer = await requireViewer()
  const [{ jobId }, { cut: cutId }] = [await params, await searchParams]
  const job = await found(getJob(viewer, jobId))
  if (!job.mayWrite || !job.list) notFound()
  const cut = cutId ? job.list.cuts.find((row) => row.id === cutId) : undefined
  if (cutId && !cut) notFound()
  const t = await getTranslations('jobs')
  const title = cut ? t('changeCutTitle', { number: cut.ordinal }) : t('addCut')
  const where = t('where', { number: job.number, title: job.title })
  return (
    <>
      <PhoneHead title={title} where={where} backHref={`/jobs/${job.id}`} />
      <DeskPageHead title={title} sentence={where} />
      <div className="px-4 py-2 desk:max-w-[1120px] desk:px-8">
        <CutForm
          cutListId={job.list.id}
          typed={typedFrom(cut ?? null, viewer)}
          cut={cut ? { id: cut.id, version: cut.version } : null}
        />
        {cut && cut.doneCount === 0 ? <RemoveCutForm cutId={cut.id} version={cut.version} /> : null}
      </div>
    </>
  )
}
