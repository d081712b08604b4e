import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { getPostedSheet } from '@/lib/data/watch/sheet'
import { PrintButton } from '../record/print-button'
import { Sheet } from './sheet'
import './sheet.css'

type PostedPageProps = Readonly<{ params: Promise<{ permitId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('posted'))('title') }
}

export default async function PostedPage({ params }: PostedPageProps) {
  const viewer = await requireViewer()
  const sheet = await found(getPostedSheet(viewer, (await params).permitId))
  const t = await getTranslations('posted')
  const back = `/permits/${sheet.head.id}`
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: sheet.head.zone }
  return (
    <>
      <div className="not-printed">
        <PhoneHead
          title={t('title')}
          where={t('number', { number: sheet.head.number })}
          backHref={back}
          level={2}
        />
        <p className="flex flex-wrap items-center gap-3 px-4 py-3 desk:px-8">
          <PrintButton kind="main">{t('print')}</PrintButton>
          <ButtonLink href={back}>{t('back')}</ButtonLink>
          <span className="type-note text-ink-2">{t('printNote')}</span>
        </p>
      </div>
      <Sheet sheet={sheet} prefs={prefs} />
    </>
  )
}
