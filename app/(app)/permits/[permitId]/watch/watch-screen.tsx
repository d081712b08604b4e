'use client'

import { useTranslations } from 'next-intl'
import { ButtonLink } from '@/app/_components/controls/button'
import { NotYetButton } from '@/app/_components/controls/not-yet-button'
import { usePrefs } from '@/app/_components/live/prefs'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import type { WatchView } from '@/lib/data/watch/view'
import { formatClock } from '@/lib/format/clock'
import { WatchLadder } from './ladder'
import { useWatch } from './use-watch'
import { WatchHead } from './watch-head'

type ScreenProps = Readonly<{ view: WatchView; ruleWords: string | null }>

/** The fire watch: how long it still lasts, its rounds, and the one thing to do now. */
export function WatchScreen({ view, ruleWords }: ScreenProps) {
  const watch = useWatch(view.facts, view.rounds)
  return (
    <>
      <WatchHead
        watch={watch}
        watchMin={view.facts.watchMin}
        torchOutMs={view.facts.torchOutMs}
        watchers={view.watchers.map((one) => one.name)}
        rule={ruleWords}
      />
      {view.facts.watchMin > 0 ? (
        <WatchLadder watch={watch} posts={view.posts} stepMin={view.facts.roundIntervalMin} />
      ) : null}
      <NotClear view={view} />
      <Unproven view={view} />
      <div className="thumb sticky bottom-[86px] z-[11] border-t-0! bg-paper desk:static">
        <NextStep view={view} watch={watch} />
      </div>
    </>
  )
}

function NotClear({ view }: Readonly<{ view: WatchView }>) {
  const t = useTranslations('watch')
  const prefs = usePrefs()
  if (view.notClear.length === 0) return null
  return (
    <ul className="mx-4 mb-1 grid gap-1 desk:mx-8">
      {view.notClear.map((one) => (
        <li key={one.post} className="trouble">
          <AnswerMark name="warm" />
          {t(one.answer === 'smoke' ? 'stillSmoke' : 'stillWarm', {
            post: one.post,
            time: formatClock(one.lookAgainBy, prefs),
          })}
        </li>
      ))}
    </ul>
  )
}

/** Rounds that were made and prove nothing, so that nobody wonders why one is owed. */
function Unproven({ view }: Readonly<{ view: WatchView }>) {
  const t = useTranslations('watch.code')
  const prefs = usePrefs()
  const made = view.rounds.filter(
    ({ atMs, unscanned }) => unscanned.length > 0 && atMs >= view.facts.torchOutMs,
  )
  if (made.length === 0) return null
  return (
    <ul className="mx-4 mb-1 grid gap-1 desk:mx-8">
      {made.map(({ atMs, by, unscanned }) => (
        <li key={atMs} className="trouble">
          <AnswerMark name="late" />
          {t('unprovenRound', {
            time: formatClock(atMs, prefs),
            by,
            posts: unscanned.join(', '),
          })}
        </li>
      ))}
    </ul>
  )
}

function NextStep({
  view,
  watch,
}: Readonly<{ view: WatchView; watch: ReturnType<typeof useWatch> }>) {
  const t = useTranslations('watch')
  const prefs = usePrefs()
  const { progress, next, opensMs, nowMs } = watch
  const base = `/permits/${view.head.id}`
  const isHeld = view.head.state === 'held'
  if (progress.done && view.notClear.length === 0) {
    return isHeld ? (
      <p className="type-note text-ink-2">{t('heldDone')}</p>
    ) : (
      <ButtonLink kind="main" isWide href={`${base}/close`}>
        {t('toClose')}
      </ButtonLink>
    )
  }
  if (!view.isViewerOn) {
    return (
      <>
        {view.can.sign ? (
          <ButtonLink
            kind={view.watchers.length === 0 ? 'main' : 'plain'}
            isWide
            href={`${base}/hand-over`}
          >
            {t('takeOver')}
          </ButtonLink>
        ) : null}
        <p className="type-note text-center text-ink-2">{t('onlyOnWatch')}</p>
      </>
    )
  }
  const number = next?.number ?? 0
  const isOpen = opensMs === null || nowMs >= opensMs || view.notClear.length > 0
  if (isOpen)
    return (
      <ButtonLink kind="main" isWide href={`${base}/watch/round`}>
        {next && (opensMs === null || nowMs >= opensMs) ? t('walk', { number }) : t('lookAgain')}
      </ButtonLink>
    )
  return (
    <NotYetButton
      label={t('opens', { number, time: formatClock(opensMs, prefs) })}
      reasons={<p className="type-note py-2">{t('whyNotYet')}</p>}
    />
  )
}
