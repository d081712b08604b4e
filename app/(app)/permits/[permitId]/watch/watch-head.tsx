'use client'

import { useTranslations } from 'next-intl'
import { usePrefs } from '@/app/_components/live/prefs'
import { Opening, OpeningNumber, OpeningPanel } from '@/app/_components/opening'
import { PastEnd } from '@/app/_components/row'
import { formatClock, formatClockRange } from '@/lib/format/clock'
import { formatDuration } from '@/lib/format/duration'
import type { useWatch } from './use-watch'

const MINUTE_MS = 60_000
type Watch = ReturnType<typeof useWatch>

type HeadProps = Readonly<{
  watch: Watch
  watchMin: number
  torchOutMs: number
  watchers: readonly string[]
  rule: string | null
}>

/** The number that counts, until when, who watches, and what it is counted from. */
export function WatchHead({ watch, watchMin, torchOutMs, watchers, rule }: HeadProps) {
  const t = useTranslations('watch')
  const prefs = usePrefs()
  const { progress, nowMs, endMs } = watch
  const leftMs = Math.max(0, endMs - nowMs)
  const isLast = leftMs > 0 && leftMs < MINUTE_MS
  const who = watchers.length > 0 ? t('onWatch', { names: watchers.join(', ') }) : t('nobody')
  return (
    <Opening>
      <section
        className="grid grid-cols-[auto_1fr] items-center gap-x-3 px-4 pt-1 pb-2 desk:px-8"
        aria-label={t('title')}
      >
        <p className="type-watch" aria-hidden="true">
          {progress.done ? 0 : isLast ? Math.ceil(leftMs / 1000) : Math.ceil(leftMs / MINUTE_MS)}
        </p>
        <div className="pt-2">
          {progress.doneAt ? (
            <PastEnd>
              {t('doneAt', {
                time: formatClock(progress.doneAt, prefs),
                ago: formatDuration(nowMs - progress.doneAt.getTime()),
              })}
            </PastEnd>
          ) : (
            <p className="type-body font-[650]">
              <span className="sr-only">{formatDuration(leftMs)} </span>
              {t(isLast ? 'secondsLeft' : 'minLeft', { time: formatClock(endMs, prefs) })}
            </p>
          )}
          <p
            className={`text-[16px] leading-5 ${watchers.length > 0 ? 'text-ink-2' : 'font-[650] text-heat'}`}
          >
            {progress.pausedSince && watchers.length === 0
              ? t('nobodySince', { time: formatClock(progress.pausedSince, prefs) })
              : who}
          </p>
          <p className="text-[16px] leading-5 text-ink-2 [font-stretch:93%]">
            <OpeningNumber
              spoken={t('spoken', {
                minutes: watchMin,
                added: Math.round(watch.addedMs / MINUTE_MS),
              })}
            >
              <span className="text-ink">
                {sumWords(t, watchMin, watch.isLost ? 0 : watch.addedMs)}
              </span>
            </OpeningNumber>{' '}
            {t('fromTorchOut', { time: formatClock(torchOutMs, prefs) })}
          </p>
        </div>
        <div className="col-span-2">
          <OpeningPanel>
            <WhereFrom watch={watch} watchMin={watchMin} rule={rule} />
          </OpeningPanel>
        </div>
      </section>
      <Announced watch={watch} />
    </Opening>
  )
}

type Words = ReturnType<typeof useTranslations<'watch'>>

function sumWords(t: Words, watchMin: number, addedMs: number): string {
  const added = Math.round(addedMs / MINUTE_MS)
  return added > 0 ? t('sum', { minutes: watchMin, added }) : t('minutes', { minutes: watchMin })
}

function WhereFrom({
  watch,
  watchMin,
  rule,
}: Readonly<{ watch: Watch; watchMin: number; rule: string | null }>) {
  const t = useTranslations('watch')
  const prefs = usePrefs()
  return (
    <ul className="type-note">
      <li className="flex justify-between gap-3">
        <span>{rule ?? t('companyRule')}</span>
        <span>{t('minutes', { minutes: watchMin })}</span>
      </li>
      {watch.gaps.map((gap) => (
        <li key={gap.fromMs} className="flex justify-between gap-3">
          <span>{t('gapLine', { range: formatClockRange(gap.fromMs, gap.toMs, prefs) })}</span>
          <span>
            {t('minutes', {
              minutes: Math.max(1, Math.round((gap.toMs - gap.fromMs) / MINUTE_MS)),
            })}
          </span>
        </li>
      ))}
      {watch.progress.restarts > 0 ? (
        <li>{t('restarted', { count: watch.progress.restarts })}</li>
      ) : null}
      <li className="text-ink-2">{t('counts')}</li>
    </ul>
  )
}

/** Said aloud when it changes: a round open, a round due, the end; never each minute. */
function Announced({ watch }: Readonly<{ watch: Watch }>) {
  const t = useTranslations('watch')
  const { next, opensMs, nowMs, progress } = watch
  const isOpen = next !== null && opensMs !== null && nowMs >= opensMs
  const isDue = next !== null && nowMs >= next.dueMs
  const words = progress.done
    ? t('saidDone')
    : isDue
      ? t('saidDue', { number: next.number })
      : isOpen
        ? t('saidOpen', { number: next.number })
        : ''
  return (
    <p className="sr-only" role="status">
      {words}
    </p>
  )
}
