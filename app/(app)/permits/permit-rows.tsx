import { useTranslations } from 'next-intl'
import { ClockAxis } from '@/app/_components/live/axis'
import { PhoneAxisHead } from '@/app/_components/live/axis-head'
import { Countdown } from '@/app/_components/live/countdown'
import { LiveBar, LiveHeldBars } from '@/app/_components/live/live-bar'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { StatusMark } from '@/app/_components/marks/status-mark'
import { PastEnd, PlainRow, TimeRow } from '@/app/_components/row'
import type { PermitListRow } from '@/lib/data/permits/list'
import { formatClock, formatWhen } from '@/lib/format/clock'
import { formatDuration } from '@/lib/format/duration'
import type { FormatPrefs } from '@/lib/format/prefs'
import { listBar } from './list-bar'
import { statusOf } from './permit-status'

type Listed = Readonly<{ rows: readonly PermitListRow[]; now: Date; prefs: FormatPrefs }>
type RowProps = Readonly<{ row: PermitListRow; now: Date; prefs: FormatPrefs }>

const RUNNING = new Set(['open', 'held', 'watch'])
const endOf = (row: PermitListRow) =>
  (row.watch?.endsAt ?? row.validUntil ?? row.plannedUntil).getTime()

/** Phone: what runs on one axis, what ends first on top; below it what waits or is over. */
export function PermitRows({ rows, now, prefs }: Listed) {
  const running = rows
    .filter((row) => RUNNING.has(row.state))
    .toSorted((a, b) => endOf(a) - endOf(b))
  const others = rows.filter((row) => !RUNNING.has(row.state))
  return (
    <>
      {running.length > 0 ? (
        <ClockAxis axis={{ kind: 'phone' }}>
          <PhoneAxisHead />
          <ul className="time-rows">
            {running.map((row) => (
              <RunningRow key={row.id} row={row} now={now} prefs={prefs} />
            ))}
          </ul>
        </ClockAxis>
      ) : null}
      <ul className="plain-rows border-t border-rule">
        {others.map((row) => (
          <WaitingRow key={row.id} row={row} now={now} prefs={prefs} />
        ))}
      </ul>
    </>
  )
}

function RunningRow({ row, now, prefs }: RowProps) {
  const t = useTranslations('permit.list')
  const title = t('title', { number: row.number, area: row.areaName })
  const untilMs = endOf(row)
  const isOver = untilMs <= now.getTime()
  return (
    <TimeRow
      href={`/permits/${row.id}`}
      mark={<StatusMark status={statusOf(row)} />}
      title={title}
      left={
        isOver ? (
          <PastEnd>{t('over', { time: formatClock(untilMs, prefs) })}</PastEnd>
        ) : (
          <Countdown untilMs={untilMs} what={title} />
        )
      }
      bar={<RowBar row={row} now={now} prefs={prefs} />}
      note={<RowNote row={row} prefs={prefs} />}
      aside={
        row.state === 'open' && row.lastCutBy
          ? t('lastCut', { time: formatClock(row.lastCutBy, prefs) })
          : nextRound(row, now, prefs, t)
      }
      second={
        row.watch && row.watch.addedMs > 0 ? (
          <span className="trouble">
            <AnswerMark name="late" />
            {t('added', { time: formatDuration(row.watch.addedMs) })}
          </span>
        ) : null
      }
    />
  )
}

type Words = ReturnType<typeof useTranslations<'permit.list'>>

function nextRound(row: PermitListRow, now: Date, prefs: FormatPrefs, t: Words) {
  const dueAt = row.state === 'watch' ? row.watch?.nextDueAt : null
  if (dueAt && dueAt < now)
    return <span className="text-heat">{t('roundLate', { time: formatClock(dueAt, prefs) })}</span>
  return dueAt ? t('roundDue', { time: formatClock(dueAt, prefs) }) : null
}

function RowBar({ row, now, prefs }: RowProps) {
  const t = useTranslations('permit.list')
  const bar = listBar(row, now.getTime())
  if (!bar) return null
  if (row.state !== 'held' || !row.watch || !row.validUntil) return <LiveBar bar={bar} size="row" />
  return (
    <LiveHeldBars
      watch={{
        ...(row.torchOutAt ? { start: row.torchOutAt.getTime() } : {}),
        end: row.watch.endsAt.getTime(),
      }}
      validity={{
        ...(row.issuedAt ? { start: row.issuedAt.getTime() } : {}),
        end: row.validUntil.getTime(),
      }}
      upperNote={row.watcherName}
      lowerNote={t('heldTo', { time: formatClock(row.validUntil, prefs) })}
    />
  )
}

function RowNote({ row, prefs }: Readonly<{ row: PermitListRow; prefs: FormatPrefs }>) {
  const t = useTranslations('permit.list')
  if (row.state === 'open' && row.validUntil)
    return t('openNote', { time: formatClock(row.validUntil, prefs), name: row.operatorName })
  if (row.watch?.pausedSince)
    return t('nobodySince', { time: formatClock(row.watch.pausedSince, prefs) })
  if (row.state === 'held' && row.torchOutAt)
    return t('heldNote', { time: formatClock(row.torchOutAt, prefs) })
  if (row.watch)
    return t('watchNote', {
      time: formatClock(row.watch.endsAt, prefs),
      name: row.watcherName ?? '',
    })
  return t('noWatchOwed')
}

function WaitingRow({ row, now, prefs }: RowProps) {
  const t = useTranslations('permit.list')
  const s = useTranslations('kit.status')
  const status = statusOf(row)
  const when = row.closedAt ?? (row.state === 'withdrawn' ? row.stateAt : row.plannedFrom)
  return (
    <PlainRow
      href={`/permits/${row.id}`}
      mark={<StatusMark status={status} />}
      title={t('title', { number: row.number, area: row.areaName })}
      note={`${s(status)}. ${row.what}`}
      aside={t(row.closedAt || row.state === 'withdrawn' ? 'at' : 'from', {
        time: formatWhen(when, now, prefs),
      })}
      isQuiet={row.state === 'closed' || row.state === 'withdrawn'}
    />
  )
}
