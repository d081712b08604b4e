import type { Metadata } from 'next'
import { headers } from 'next/headers'
import { getTranslations } from 'next-intl/server'
import { DangerSlab } from '@/app/_components/danger/danger-slab'
import { OfflineStrip } from '@/app/_components/live/offline-strip'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { Status } from '@/app/_components/marks/status-mark'
import { FactList } from '@/app/_components/row'
import { EmptyState } from '@/app/_components/states/empty-state'
import { Wordmark } from '@/app/_components/wordmark'
import { CLIENT_ADDRESS_HEADER } from '@/lib/auth/headers'
import { getPosted, type Posted } from '@/lib/data/watch/posted'
import { withPostedCode } from '@/lib/data/watch/posted-code'
import { AppError } from '@/lib/errors'
import { formatClock, formatDayClock } from '@/lib/format/clock'
import { OwnPartLinks } from './own-part-links'
import { PostedSignOn } from './sign-on'

type PostedCodePageProps = Readonly<{ params: Promise<{ code: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('stopWork'))('title') }
}

type Read = Readonly<{ posted: Posted } | { refused: AppError }>

async function read(code: string): Promise<Read> {
  const address = (await headers()).get(CLIENT_ADDRESS_HEADER) ?? 'unknown'
  try {
    return { posted: await withPostedCode({ code, address }, getPosted) }
  } catch (error) {
    if (error instanceof AppError) return { refused: error }
    throw error
  }
}

/** What hangs at the work leads here. No sign-in: whoever stands there may stop it. */
export default async function PostedCodePage({ params }: PostedCodePageProps) {
  const { code } = await params
  const result = await read(code)
  const t = await getTranslations('stopWork')
  if ('refused' in result) {
    const waitMin =
      result.refused.code === 'TOO_MANY_TRIES' ? Number(result.refused.params.waitMin ?? 1) : null
    return (
      <main className="mx-auto w-full max-w-[480px]">
        <p className="px-4 pt-4">
          <Wordmark />
        </p>
        <EmptyState
          isPage
          title={waitMin === null ? t('unknown') : t('tooMany', { minutes: waitMin })}
          next={t('unknownNext')}
        />
      </main>
    )
  }
  const { posted } = result
  const prefs = { units: 'us', clock: '24', timeZone: posted.zone } as const
  const isOver = posted.state === 'closed' || posted.state === 'withdrawn'
  const facts = [
    { name: t('what'), value: <b className="font-[650]">{posted.what}</b> },
    {
      name: t('where'),
      value:
        posted.whereWords === posted.areaName
          ? posted.areaName
          : `${posted.areaName}. ${posted.whereWords}`,
    },
    { name: t('site'), value: posted.siteName },
    ...(posted.validUntil
      ? [{ name: t('until'), value: formatDayClock(posted.validUntil, prefs) }]
      : []),
  ]
  return (
    <PrefsProvider prefs={prefs}>
      <div className="app-shell mx-auto w-full max-w-[480px]">
        <OfflineStrip />
        <main className="app-main">
          <p className="px-4 pt-4">
            <Wordmark />
          </p>
          <div className="flex items-start justify-between gap-3 px-4 pt-3">
            <h1 className="type-phone-title">{t('title')}</h1>
            <Status status={posted.stoppedAt ? 'stopped' : posted.state} />
          </div>
          <div className="[&_.facts_dt]:w-[88px]">
            <FactList facts={facts} />
          </div>
          <section className="border-y-2 border-ink px-4 py-3">
            <h2 className="type-section">{t('callFirst')}</h2>
            <p className="text-[20px] leading-[26px] font-[650]">
              {posted.emergencyWords || t('call')}
            </p>
          </section>
          <p className="px-4 py-3">
            {isOver
              ? t('notRunning')
              : posted.stoppedAt
                ? t('alreadyStopped', { time: formatClock(posted.stoppedAt, prefs) })
                : posted.stopPressedAt
                  ? `${t('held', { time: formatClock(posted.stopPressedAt, prefs) })} ${t('shout')}`
                  : t('onlyStops')}
          </p>
          <p className="px-4 pb-3 type-small text-ink-2">{t('caution')}</p>
          {isOver ? null : <OwnPartLinks permitId={posted.permitId} code={code} />}
          {isOver || posted.state === 'preparing' ? null : <PostedSignOn code={code} />}
          {isOver || posted.stoppedAt ? null : (
            <DangerSlab
              kind="stop"
              permitId={posted.permitId}
              route={`/api/s/${encodeURIComponent(code)}`}
            />
          )}
        </main>
      </div>
    </PrefsProvider>
  )
}
