import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { Column, DataTable } from '@/app/_components/data-table'
import { ClockAxis } from '@/app/_components/live/axis'
import { DeskAxisHead } from '@/app/_components/live/axis-head'
import { Countdown } from '@/app/_components/live/countdown'
import { LiveBar } from '@/app/_components/live/live-bar'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { Status } from '@/app/_components/marks/status-mark'
import type { TodayPermit } from '@/lib/data/today/today'
import type { FormatPrefs } from '@/lib/format/prefs'
import { atHourOfDay, startOfHour } from '@/lib/format/zone'
import { statusOf } from '../permits/permit-status'
import { ChangeWords, gasBar, gasEndsMs, Interval, OfTheCuts, ShortOrDraw } from './gas-row'
import { Aside, barOf, Left, Note, Second } from './permit-row'
import type { rowsOf, TodayRow } from './rows-of'

type TableProps = Readonly<{ rows: ReturnType<typeof rowsOf>; now: Date; prefs: FormatPrefs }>

const DAY_FROM_HOUR = 6
const DAY_TO_HOUR = 20
const HOUR_MS = 3_600_000

/** Desk: the same rows on the day's own axis. */
export function TodayTable({ rows, now, prefs }: TableProps) {
  const t = useTranslations('today')
  // A night shift's now must be on the axis too.
  const fromMs = Math.min(
    atHourOfDay(now.getTime(), prefs.timeZone, DAY_FROM_HOUR),
    startOfHour(now.getTime(), prefs.timeZone) - HOUR_MS,
  )
  const toMs = Math.max(
    atHourOfDay(now.getTime(), prefs.timeZone, DAY_TO_HOUR),
    startOfHour(now.getTime(), prefs.timeZone) + 4 * HOUR_MS,
  )
  return (
    <ClockAxis axis={{ kind: 'fixed', fromMs, toMs }} widthPx={480} hasNowLine>
      <DataTable
        caption={t('caption')}
        head={
          <>
            <Column>{t('what')}</Column>
            <Column>{t('where')}</Column>
            <Column isFigure>{t('left')}</Column>
            <Column>{t('note')}</Column>
            <Column>{t('needs')}</Column>
            <th scope="col" className="axis-cell w-[36%]" aria-label={t('day')}>
              <DeskAxisHead step={2} />
            </th>
          </>
        }
      >
        <tbody>
          {rows.map((row) => (
            <TableRow key={row.key} row={row} now={now} prefs={prefs} />
          ))}
        </tbody>
      </DataTable>
    </ClockAxis>
  )
}

type RowProps = Readonly<{ row: TodayRow; now: Date; prefs: FormatPrefs }>

function TableRow({ row, now, prefs }: RowProps) {
  return row.kind === 'permit' ? (
    <PermitCells permit={row.permit} now={now} prefs={prefs} />
  ) : (
    <GasCells row={row} now={now} prefs={prefs} />
  )
}

const LINK = 'text-ink underline decoration-cobalt underline-offset-4'

function PermitCells({
  permit,
  now,
  prefs,
}: Readonly<{ permit: TodayPermit; now: Date; prefs: FormatPrefs }>) {
  const owed = permit.state === 'held' && permit.watch && !permit.watch.isDone && permit.torchOutAt
  const bar =
    owed && permit.watch && permit.torchOutAt
      ? ({
          state: 'running',
          start: permit.torchOutAt.getTime(),
          end: permit.watch.endsAt.getTime(),
        } as const)
      : barOf(permit, now.getTime())
  return (
    <tr>
      <td className="whitespace-nowrap">
        <Status status={statusOf(permit)} size="desk" />
      </td>
      <td className="whitespace-nowrap">
        <Link
          className={LINK}
          href={permit.state === 'watch' ? `/permits/${permit.id}/watch` : `/permits/${permit.id}`}
        >
          <span className="type-ident">{permit.number}</span> {permit.areaName}
        </Link>
      </td>
      <td className="is-figure">
        <Left permit={permit} now={now} title={permit.number} size="desk" />
      </td>
      <td>
        <Note permit={permit} now={now} prefs={prefs} />
      </td>
      <td>
        <Aside permit={permit} now={now} prefs={prefs} />{' '}
        <Second permit={permit} now={now} prefs={prefs} />
      </td>
      <td className="axis-cell">
        {bar ? (
          <div>
            <LiveBar bar={bar} size="desk" />
          </div>
        ) : null}
      </td>
    </tr>
  )
}

function GasCells({
  row,
  now,
  prefs,
}: Readonly<{ row: Extract<TodayRow, { kind: 'gas' }>; now: Date; prefs: FormatPrefs }>) {
  const t = useTranslations('today')
  const v = useTranslations('permit.vessel')
  const { gas } = row
  const endMs = gasEndsMs(gas)
  return (
    <tr>
      <td className="whitespace-nowrap">
        <span className="status status-desk">
          <AnswerMark name="cylinder" />
          {v(`gas.${gas.side.gasId}` as 'gas.oxygen')}
        </span>
      </td>
      <td>
        <Link className={LINK} href={gas.href}>
          {t('outfit', { number: gas.outfitNumber })}
        </Link>
      </td>
      <td className="is-figure">
        {endMs === null ? (
          '–'
        ) : (
          <Countdown untilMs={endMs} what={gas.outfitNumber} size="desk" isAbout />
        )}
      </td>
      <td>
        <ChangeWords gas={gas} now={now} prefs={prefs} />
        <span className="block text-ink-2">
          <Interval gas={gas} now={now} prefs={prefs} />
        </span>
      </td>
      <td>
        <ShortOrDraw gas={gas} prefs={prefs} /> <OfTheCuts gas={gas} />
      </td>
      <td className="axis-cell">
        <div>
          <LiveBar bar={gasBar(gas, now.getTime())} size="desk" />
        </div>
      </td>
    </tr>
  )
}
