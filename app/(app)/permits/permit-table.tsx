import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { Column, DataTable } from '@/app/_components/data-table'
import { ClockAxis } from '@/app/_components/live/axis'
import { DeskAxisHead } from '@/app/_components/live/axis-head'
import { Countdown } from '@/app/_components/live/countdown'
import { LiveBar } from '@/app/_components/live/live-bar'
import { Status } from '@/app/_components/marks/status-mark'
import { PastEnd } from '@/app/_components/row'
import type { PermitListRow } from '@/lib/data/permits/list'
import { formatClock, formatWhen } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { dayAround } from './day-around'
import { listBar, watchBar } from './list-bar'
import { statusOf } from './permit-status'

type Listed = Readonly<{ rows: readonly PermitListRow[]; now: Date; prefs: FormatPrefs }>
type RowProps = Readonly<{ row: PermitListRow; now: Date; prefs: FormatPrefs }>

const AXIS_PX = 480

/** Desk: a row a permit on the day's own axis; a held one carries its watch in a second row. */
export function PermitTable({ rows, now, prefs }: Listed) {
  const t = useTranslations('permit.list')
  return (
    <ClockAxis
      axis={{ kind: 'fixed', ...dayAround(now.getTime(), prefs.timeZone) }}
      widthPx={AXIS_PX}
      hasNowLine
    >
      <DataTable
        caption={t('caption')}
        head={
          <>
            <Column>{t('state')}</Column>
            <Column>{t('permit')}</Column>
            <Column>{t('work')}</Column>
            <Column>{t('cutting')}</Column>
            <Column>{t('watching')}</Column>
            <Column isFigure>{t('left')}</Column>
            <th scope="col" className="axis-cell w-[36%]" aria-label={t('day')}>
              <DeskAxisHead step={2} />
            </th>
          </>
        }
      >
        <tbody>
          {rows.map((row) => (
            <PermitTableRows key={row.id} row={row} now={now} prefs={prefs} />
          ))}
        </tbody>
      </DataTable>
    </ClockAxis>
  )
}

function PermitTableRows({ row, now, prefs }: RowProps) {
  const t = useTranslations('permit.list')
  const bar = listBar(row, now.getTime())
  const owed = row.state === 'held' && row.torchOutAt ? watchBar(row, now.getTime()) : null
  return (
    <>
      <tr className={owed ? 'no-line' : undefined}>
        <td>
          <Status status={statusOf(row)} size="desk" />
        </td>
        <td className="whitespace-nowrap">
          <Link
            href={`/permits/${row.id}`}
            className="text-ink underline decoration-cobalt underline-offset-4"
          >
            <span className="type-ident">{row.number}</span> {row.areaName}
          </Link>
        </td>
        <td>{row.what}</td>
        <td className="whitespace-nowrap">{row.operatorName}</td>
        <td className="whitespace-nowrap">{row.watcherName ?? t('nobody')}</td>
        <td className="is-figure">
          <Left row={row} now={now} prefs={prefs} />
        </td>
        <td className="axis-cell">
          {bar ? (
            <div>
              <LiveBar bar={bar} size="desk" />
            </div>
          ) : null}
        </td>
      </tr>
      {owed && row.watch ? (
        <tr>
          <td />
          <td colSpan={3}>
            <b>{t('owed', { time: formatClock(row.torchOutAt ?? now, prefs) })}</b>
          </td>
          <td className="whitespace-nowrap">{row.watcherName}</td>
          <td className="is-figure">
            <Countdown untilMs={row.watch.endsAt.getTime()} what={row.number} size="desk" />
          </td>
          <td className="axis-cell">
            <div>
              <LiveBar bar={owed} size="desk" />
            </div>
          </td>
        </tr>
      ) : null}
    </>
  )
}

/** What is left of a permit or of its watch, in one cell. */
export function Left({ row, now, prefs }: RowProps) {
  const t = useTranslations('permit.list')
  if (row.closedAt || row.state === 'withdrawn')
    return t('at', { time: formatWhen(row.closedAt ?? row.stateAt, now, prefs) })
  if (row.state === 'preparing' || row.state === 'cleared')
    return t('from', { time: formatWhen(row.plannedFrom, now, prefs) })
  const until = (row.state === 'watch' ? row.watch?.endsAt : row.validUntil)?.getTime()
  if (until === undefined) return t('noWatchOwed')
  if (until <= now.getTime())
    return (
      <PastEnd>
        {t(row.state === 'watch' ? 'watchDone' : 'over', { time: formatClock(until, prefs) })}
      </PastEnd>
    )
  return <Countdown untilMs={until} what={row.number} size="desk" />
}
