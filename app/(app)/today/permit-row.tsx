import { useTranslations } from 'next-intl'
import type { LyingBar } from '@/app/_components/bar/lying-types'
import { Countdown } from '@/app/_components/live/countdown'
import { LiveBar, LiveHeldBars } from '@/app/_components/live/live-bar'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { StatusMark } from '@/app/_components/marks/status-mark'
import { PastEnd, TimeRow } from '@/app/_components/row'
import type { TodayPermit } from '@/lib/data/today/today'
import { formatClock, formatClockRange } from '@/lib/format/clock'
import { formatDuration } from '@/lib/format/duration'
import type { FormatPrefs } from '@/lib/format/prefs'
import { statusOf } from '../permits/permit-status'

const ms = (date: Date) => date.getTime()
type RowProps = Readonly<{ permit: TodayPermit; now: Date; prefs: FormatPrefs }>

/** A permit or its watch on the site's one axis; a held one by its watch, with both bars. */
export function TodayPermitRow({ permit, now, prefs }: RowProps) {
  const t = useTranslations('today')
  const isWatch = permit.state === 'watch'
  const title = t(isWatch ? 'watchTitle' : 'permitTitle', {
    number: permit.number,
    area: permit.areaName,
  })
  return (
    <TimeRow
      href={isWatch ? `/permits/${permit.id}/watch` : `/permits/${permit.id}`}
      mark={<StatusMark status={statusOf(permit)} />}
      title={title}
      left={<Left permit={permit} now={now} title={title} />}
      bar={<PermitBar permit={permit} now={now} prefs={prefs} />}
      note={<Note permit={permit} now={now} prefs={prefs} />}
      aside={<Aside permit={permit} now={now} prefs={prefs} />}
      second={<Second permit={permit} prefs={prefs} now={now} />}
    />
  )
}

/** Left: the watch a held permit owes, else what is left of it; past the end the row below says so. */
export function Left({
  permit,
  now,
  title,
  size = 'row',
}: Readonly<{ permit: TodayPermit; now: Date; title: string; size?: 'row' | 'desk' }>) {
  const t = useTranslations('today')
  const endMs = ms(permit.endsAt)
  if (endMs > ms(now)) return <Countdown untilMs={endMs} what={title} size={size} />
  return (
    <span className="type-note text-ink-2">{permit.watch?.isDone ? t('watched') : t('ended')}</span>
  )
}

export function barOf(permit: TodayPermit, nowMs: number): LyingBar | null {
  const { watch, torchOutAt, issuedAt, validUntil, stoppedAt, state } = permit
  if (watch && torchOutAt && state === 'watch') {
    const end = ms(watch.endsAt)
    const start = ms(torchOutAt)
    if (watch.isDone) return { state: 'past-end', start, end }
    const rest = {
      start,
      end,
      rounds: watch.roundsDue.map(ms),
      ...(watch.addedMs >= 60_000 ? { addedFrom: end - watch.addedMs } : {}),
    }
    if (watch.pausedSince) return { state: 'paused', ...rest }
    return stoppedAt
      ? { state: 'stopped', stoppedAt: ms(stoppedAt), ...rest }
      : { state: 'running', ...rest }
  }
  if (!issuedAt || !validUntil) return null
  const [start, end] = [ms(issuedAt), ms(validUntil)]
  if (end <= nowMs) return { state: 'past-end', start, end }
  return { state: state === 'held' ? 'held' : 'running', start, end }
}

function PermitBar({ permit, now, prefs }: RowProps) {
  const t = useTranslations('today')
  const { watch, torchOutAt, issuedAt, validUntil, state } = permit
  if (state === 'held' && watch && !watch.isDone && torchOutAt && issuedAt && validUntil) {
    const added = watch.addedMs >= 60_000 ? { addedFrom: ms(watch.endsAt) - watch.addedMs } : {}
    return (
      <LiveHeldBars
        watch={{
          start: ms(torchOutAt),
          end: ms(watch.endsAt),
          rounds: watch.roundsDue.map(ms),
          ...added,
        }}
        validity={{ start: ms(issuedAt), end: ms(validUntil) }}
        upperNote={t('nameTo', {
          name: permit.watcher ?? t('nobody'),
          time: formatClock(watch.endsAt, prefs),
        })}
        lowerNote={t('heldTo', { time: formatClock(validUntil, prefs) })}
      />
    )
  }
  const bar = barOf(permit, ms(now))
  return bar ? <LiveBar bar={bar} size="row" /> : null
}

export function Note({ permit, now, prefs }: RowProps) {
  const t = useTranslations('today')
  const { watch, torchOutAt, validUntil, state } = permit
  if (state === 'held' && torchOutAt)
    return watch && !watch.isDone
      ? t('heldOwed', {
          time: formatClock(torchOutAt, prefs),
          left: formatDuration(ms(watch.endsAt) - ms(now)),
        })
      : t('heldDone', { time: formatClock(torchOutAt, prefs) })
  if (watch?.pausedSince && !watch.isDone)
    return (
      <span className="font-[600] text-heat">
        {t('nobodySince', { time: formatClock(watch.pausedSince, prefs) })}
      </span>
    )
  if (watch)
    return t('until', {
      time: formatClock(watch.endsAt, prefs),
      name: permit.watcher ?? t('nobody'),
    })
  return validUntil
    ? t('cutting', { time: formatClock(validUntil, prefs), name: permit.operator })
    : null
}

export function Aside({ permit, now, prefs }: RowProps) {
  const t = useTranslations('today')
  const { watch, state, lastCutBy } = permit
  if (state === 'open' && lastCutBy) return t('lastCut', { time: formatClock(lastCutBy, prefs) })
  if (!watch?.nextDueAt || watch.isDone) return null
  const isLate = watch.nextDueAt < now
  return (
    <span className={isLate ? 'text-heat' : undefined}>
      {t(isLate ? 'roundWasDue' : 'roundDue', {
        number: watch.nextNumber,
        time: formatClock(watch.nextDueAt, prefs),
      })}
    </span>
  )
}

export function Second({ permit, now, prefs }: RowProps) {
  const t = useTranslations('today')
  const { watch, state } = permit
  if (watch?.isDone && state === 'watch')
    return (
      <PastEnd>
        {t('doneNotSigned', {
          time: formatClock(watch.endsAt, prefs),
          ago: formatDuration(ms(now) - ms(watch.endsAt)),
        })}
      </PastEnd>
    )
  if (watch?.isLost && !watch.isDone)
    return (
      <span className="trouble">
        <AnswerMark name="late" />
        {t('lost')}
      </span>
    )
  if (!watch || watch.isDone || watch.addedMs < 60_000) return null
  const minutes = Math.round(watch.addedMs / 60_000)
  return (
    <span className="trouble">
      <AnswerMark name="late" />
      {watch.gap
        ? t('addedGap', { minutes, range: formatClockRange(watch.gap.from, watch.gap.to, prefs) })
        : t('added', { minutes })}
    </span>
  )
}
