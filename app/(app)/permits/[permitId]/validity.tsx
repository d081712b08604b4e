import { useTranslations } from 'next-intl'
import { ClockAxis } from '@/app/_components/live/axis'
import { Countdown } from '@/app/_components/live/countdown'
import { LiveBar, LiveHeldBars } from '@/app/_components/live/live-bar'
import { PastEnd } from '@/app/_components/row'
import type { PermitView } from '@/lib/data/permits/get'
import { formatClock } from '@/lib/format/clock'
import { formatDuration } from '@/lib/format/duration'
import type { FormatPrefs } from '@/lib/format/prefs'
import { AxisFoot } from './axis-foot'

type ValidityProps = Readonly<{ view: PermitView; prefs: FormatPrefs }>

/** What is left of the permit, its bar on the clock, and one line: the last cut, or the watch that a hold owes. */
export function Validity({ view, prefs }: ValidityProps) {
  const t = useTranslations('permit.open')
  const { issuedAt, validUntil, now } = view
  if (!issuedAt || !validUntil) return null
  const isOver = validUntil <= now
  const until = formatClock(validUntil, prefs)
  return (
    <section className="border-b border-rule px-4 pb-2 desk:px-0">
      <div className="flex items-end justify-between gap-3 pt-1 pb-2">
        <p className="type-row-title">{t('until', { time: until })}</p>
        {isOver ? (
          <PastEnd>{t('ended', { time: until })}</PastEnd>
        ) : (
          <Countdown
            untilMs={validUntil.getTime()}
            what={t('what', { number: view.head.number })}
            size="permit"
            after={t('left')}
            isAnnounced
          />
        )}
      </div>
      <ClockAxis axis={axisOf(view)}>
        <ValidityBar view={view} prefs={prefs} />
        <AxisFoot />
      </ClockAxis>
      <p className="type-body">
        {view.head.state === 'held' ? (
          <HeldLine view={view} prefs={prefs} />
        ) : (
          <LastCut view={view} prefs={prefs} />
        )}
      </p>
    </section>
  )
}

/** From the issue to the later of its end and its watch, with room for the walls. */
function axisOf({ issuedAt, validUntil, watch, now }: PermitView) {
  const start = (issuedAt ?? now).getTime()
  const end = Math.max(
    validUntil?.getTime() ?? 0,
    watch?.endsAtIfWatched?.getTime() ?? 0,
    now.getTime(),
  )
  const roomMs = (end - start) * 0.03
  return { kind: 'fixed', fromMs: start - roomMs, toMs: end + roomMs } as const
}

function ValidityBar({ view, prefs }: ValidityProps) {
  const t = useTranslations('permit.open')
  const { issuedAt, validUntil, watch, torchOutAt, head } = view
  const start = issuedAt?.getTime() ?? 0
  const end = validUntil?.getTime() ?? 0
  const sentence = t(head.state === 'held' ? 'heldSentence' : 'openSentence', {
    number: head.number,
    time: formatClock(end, prefs),
  })
  if (end <= view.now.getTime())
    return <LiveBar size="permit" bar={{ state: 'past-end', start, end }} sentence={sentence} />
  if (head.state !== 'held')
    return <LiveBar size="permit" bar={{ state: 'running', start, end }} sentence={sentence} />
  if (!watch?.endsAtIfWatched || watch.done)
    return <LiveBar size="permit" bar={{ state: 'held', start, end }} sentence={sentence} />
  const watchBar = { start: torchOutAt?.getTime() ?? start, end: watch.endsAtIfWatched.getTime() }
  return (
    <LiveHeldBars size="permit" watch={watchBar} validity={{ start, end }} sentence={sentence} />
  )
}

function LastCut({ view, prefs }: ValidityProps) {
  const t = useTranslations('permit.open')
  const bold = (words: React.ReactNode) => <b className="font-[650]">{words}</b>
  const { lastCutBy, validUntil, watchMin, people } = view
  if (watchMin === 0) return t('noWatch')
  if (!lastCutBy || !validUntil)
    return t.rich('watchAfter', { minutes: watchMin, name: people.watcher, b: bold })
  return t.rich('lastCut', {
    last: formatClock(lastCutBy, prefs),
    end: formatClock(validUntil, prefs),
    name: people.watcher,
    b: bold,
  })
}

function HeldLine({ view, prefs }: ValidityProps) {
  const t = useTranslations('permit.open')
  const bold = (words: React.ReactNode) => <b className="font-[650]">{words}</b>
  const { torchOutAt, watch } = view
  const out = torchOutAt ? formatClock(torchOutAt, prefs) : ''
  if (!watch || watch.done) return t.rich('heldDone', { time: out, b: bold })
  if (watch.pausedSince)
    return t.rich('heldNobody', {
      time: out,
      since: formatClock(watch.pausedSince, prefs),
      b: bold,
    })
  return t.rich('heldOwed', { time: out, left: formatDuration(watch.remainingMs), b: bold })
}
