import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { Column, DataTable } from '@/app/_components/data-table'
import { ClockAxis } from '@/app/_components/live/axis'
import { DeskAxisHead } from '@/app/_components/live/axis-head'
import { Countdown } from '@/app/_components/live/countdown'
import { LiveBar } from '@/app/_components/live/live-bar'
import { Status } from '@/app/_components/marks/status-mark'
import type { FleetSite } from '@/lib/data/fleet'
import type { PermitListRow } from '@/lib/data/permits/list'
import { formatClock } from '@/lib/format/clock'
import { formatDuration } from '@/lib/format/duration'
import type { FormatPrefs } from '@/lib/format/prefs'
import { dayAround } from '../permits/day-around'
import { listBar, watchBar } from '../permits/list-bar'
import { statusOf } from '../permits/permit-status'
import { Left } from '../permits/permit-table'
import { PastLabel } from './past-label'
import { BlankRows, isOwing, permitLines, sheetLines } from './sheet-lines'

type SheetProps = Readonly<{ sites: readonly FleetSite[]; now: Date; prefs: FormatPrefs }>
type RowProps = Readonly<{ row: PermitListRow; now: Date; prefs: FormatPrefs }>

const AXIS_PX = 327

/** Left: the permits of every site on the day's one axis; their flames line up. */
export function PermitSheet({ sites, now, prefs }: SheetProps) {
  const t = useTranslations('sites')
  return (
    <ClockAxis
      axis={{ kind: 'fixed', ...dayAround(now.getTime(), prefs.timeZone) }}
      widthPx={AXIS_PX}
      hasNowLine
    >
      <DataTable
        caption={t('permitCaption')}
        className="table-fixed [&_td]:h-[34px] [&_td]:py-0"
        head={
          <>
            <Column>{t('permitAndPlace')}</Column>
            <th scope="col" className="w-[116px]">
              {t('onIt')}
            </th>
            <th scope="col" className="is-figure w-[70px]">
              {t('left')}
            </th>
            <th scope="col" className="axis-cell w-[42%]" aria-label={t('day')}>
              <DeskAxisHead step={2} />
            </th>
          </>
        }
      >
        {sites.map((one) => (
          <tbody key={one.site.id} className="is-ruled">
            <tr>
              <td className="text-[16px] font-[650] whitespace-nowrap">
                <Link
                  href={`/today?site=${one.site.id}`}
                  className="text-ink decoration-cobalt underline-offset-4 hover:underline"
                >
                  {one.site.name}
                </Link>
              </td>
              <td className="truncate text-ink-2">{one.keeperName}</td>
              <td />
              <td />
            </tr>
            {one.permits.map((row) => (
              <PermitLine key={row.id} row={row} now={now} prefs={prefs} />
            ))}
            {one.permits.length === 0 ? (
              <tr>
                <td colSpan={4} className="text-ink-2">
                  {one.designated
                    ? t(one.designated.lookedAt ? 'designated' : 'designatedNever', {
                        area: one.designated.name,
                        time: one.designated.lookedAt
                          ? formatClock(one.designated.lookedAt, prefs)
                          : '',
                      })
                    : t('noPermits')}
                </td>
              </tr>
            ) : null}
            <BlankRows count={sheetLines(one) - permitLines(one)} columns={4} />
          </tbody>
        ))}
      </DataTable>
    </ClockAxis>
  )
}

function PermitLine({ row, now, prefs }: RowProps) {
  const t = useTranslations('sites')
  const bar = listBar(row, now.getTime())
  const owed = isOwing(row) ? watchBar(row, now.getTime()) : null
  return (
    <>
      <tr className={owed ? 'no-line' : undefined}>
        <td className="truncate">
          <span className="inline-block w-[96px] align-middle">
            <Status status={statusOf(row)} size="desk" />
          </span>
          <Link
            href={`/permits/${row.id}`}
            className="text-ink underline decoration-cobalt underline-offset-4"
          >
            <span className="type-ident">{row.number}</span> {row.areaName}
          </Link>
        </td>
        <td className="truncate">
          {row.state === 'watch' ? (row.watcherName ?? t('nobody')) : row.operatorName}
        </td>
        <td className="is-figure">
          {bar?.state === 'past-end' ? null : <Left row={row} now={now} prefs={prefs} />}
        </td>
        <td className="axis-cell">
          {bar ? (
            <div>
              <LiveBar bar={bar} size="desk" />
              {bar.state === 'past-end' ? (
                <PastLabel endMs={bar.end}>
                  {t(row.state === 'watch' ? 'watchDone' : 'ended', {
                    time: formatClock(bar.end, prefs),
                    ago: formatDuration(now.getTime() - bar.end),
                  })}
                </PastLabel>
              ) : null}
            </div>
          ) : null}
        </td>
      </tr>
      {owed && row.watch ? (
        <tr>
          <td className="truncate pl-[96px]">
            <b>{t('owed', { time: formatClock(row.torchOutAt ?? now, prefs) })}</b>
          </td>
          <td className="truncate">{row.watcherName}</td>
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
