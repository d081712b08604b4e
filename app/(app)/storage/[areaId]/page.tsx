import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { resolveSite } from '@/lib/data/sites'
import { getStoreQuestions } from '@/lib/data/storage-answers'
import { formatDayClock } from '@/lib/format/clock'
import { ANSWER_DAYS } from '@/lib/rules/store-answers'
import { QuestionsForm } from './questions-form'

type AnswersPageProps = Readonly<{ params: Promise<{ areaId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('storage'))('title') }
}

/** What somebody with a tape says of a store; nothing is filled in beforehand. */
export default async function StoreQuestionsPage({ params }: AnswersPageProps) {
  const viewer = await requireViewer()
  const store = await found(getStoreQuestions(viewer, (await params).areaId))
  const site = await found(resolveSite(viewer, store.siteId))
  const t = await getTranslations('storage')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: site.zone }
  const title = t('questions.title', { area: store.name })
  const where = t('questions.where', { site: site.name })
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead title={title} where={where} backHref={`/storage?site=${store.siteId}`} />
      <DeskPageHead title={title} sentence={where} />
      <div className="flex flex-col gap-4 px-4 py-3 desk:max-w-[640px] desk:px-8">
        <p className="type-note text-ink-2">{t('questions.lead', { days: ANSWER_DAYS })}</p>
        {store.last ? (
          <p className="type-note">
            {t('answered', {
              person: store.last.personName,
              when: formatDayClock(store.last.at, prefs),
            })}{' '}
            {store.last.isStale ? <b>{t('stale', { days: ANSWER_DAYS })}</b> : null}
          </p>
        ) : null}
        <QuestionsForm areaId={store.areaId} siteId={store.siteId} isIndoors={store.isIndoors} />
      </div>
    </PrefsProvider>
  )
}
