import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { found } from '@/app/_components/found'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { requireViewer } from '@/lib/auth/viewer'
import { getCount } from '@/lib/data/stock-counts'
import { formatDayClock } from '@/lib/format/clock'
import { GasFrame } from '../../gas-frame'
import { EndForm } from './end-form'
import { SightList } from './sight-list'

type CountPageProps = Readonly<{ params: Promise<{ countId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('stockCount'))('title') }
}

/** Seen so far, and what is not where it should be. */
export default async function CountPage({ params }: CountPageProps) {
  const viewer = await requireViewer()
  const count = await found(getCount(viewer, (await params).countId))
  const t = await getTranslations('stockCount')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: count.zone }
  const where = `${count.siteName}, ${formatDayClock(count.at, prefs)}`
  const asExpected = count.lines.filter((line) => line.line === 'found').length
  const others = count.lines.filter((line) => line.line !== 'found')
  return (
    <GasFrame
      title={t('title')}
      where={where}
      back={`/cylinders/count?site=${count.siteId}`}
      viewer={viewer}
      zone={count.zone}
    >
      <div className="grid gap-6 px-4 py-3 desk:grid-cols-2 desk:gap-12 desk:px-8">
        {count.end ? (
          <p className="flex items-center gap-2 type-row-title">
            <AnswerMark name="done" />
            {t('ended', {
              found: count.end.found,
              misplaced: count.end.misplaced,
              lost: count.end.lost,
              open: count.end.leftOpen,
            })}
          </p>
        ) : (
          <>
            <SightList countId={count.id} areas={count.areas} />
            <section>
              <p className="flex items-center gap-2 pb-2 type-row-title">
                <AnswerMark name="done" />
                {t('asExpected', { count: asExpected })}
              </p>
              <h2 className="type-section pb-1">{t('others', { count: others.length })}</h2>
              <p className="pb-2 type-note text-ink-2">{t('othersNote')}</p>
              <EndForm countId={count.id} lines={others} />
            </section>
          </>
        )}
      </div>
    </GasFrame>
  )
}
