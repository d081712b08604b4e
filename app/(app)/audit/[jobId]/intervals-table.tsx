import { useTranslations } from 'next-intl'
import { rangeScale } from '@/app/_components/bar/scale'
import { EstimateBar } from '@/app/_components/charts/estimate-bar'
import { ValueAxisHead } from '@/app/_components/charts/value-axis-head'
import { ButtonLink } from '@/app/_components/controls/button'
import { Column, DataTable, FigureCells } from '@/app/_components/data-table'
import { Opening, OpeningNumber, OpeningTableRow } from '@/app/_components/opening'
import type { JobAudit } from '@/lib/calc/audit-types'
import type { GasCode } from '@/lib/calc/gas-data'
import type { JobAuditDetail } from '@/lib/data/gas-audit'
import type { AuditInterval } from '@/lib/data/gas-audit-intervals'
import { formatClock, formatDay } from '@/lib/format/clock'
import { formatInterval, formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { niceStep, usedVolumes, volumeOf, volumeUnit } from '../audit-view'
import { IntervalTerms } from './interval-terms'

const BAR_PX = 160

/** Rows that one page shows of a gas; a long job has hundreds. */
const PAGE = 25

type Props = Readonly<{
  job: JobAuditDetail
  audit: JobAudit
  prefs: FormatPrefs
  /** Key of the last row of the page before; one that nobody gave out reads from the top. */
  after: string | undefined
  nextHref: (key: string) => string
}>

const keyOf = (row: AuditInterval) => `${row.fromMs}~${row.cylinderId}`
type Scale = ReturnType<typeof rangeScale>

/** What was used between each two readings beside the work logged then, and the readings that say so. */
export function IntervalsTable({ job, audit, prefs, after, nextHref }: Props) {
  const t = useTranslations('audit')
  const unit = volumeUnit(prefs.units)
  const side = audit.gas === 'oxygen' ? 'oxygen' : 'fuel'
  const rows = job.intervals[side]
  const from = rows.findIndex((row) => keyOf(row) === after) + 1
  const shown = rows.slice(from, from + PAGE)
  const last = rows.length > from + PAGE ? shown.at(-1) : undefined
  const top =
    1.04 *
    Math.max(
      1,
      ...rows.flatMap(({ balance }) =>
        [balance.usage.high90, balance.estimate?.high90 ?? 0].map((kg) =>
          volumeOf(audit.gas, kg, prefs.units),
        ),
      ),
    )
  const scale = rangeScale({ from: 0, to: top, widthPx: BAR_PX })
  return (
    <>
      <DataTable
        caption={t('intervalCaption')}
        head={
          <>
            <Column>{t('between')}</Column>
            <th scope="col" className="hidden desk:table-cell">
              {t('cylinder')}
            </th>
            <th scope="col" className="hidden desk:table-cell">
              {t('logged')}
            </th>
            <th scope="col" className="hidden wide:table-cell" aria-label={t('bars')}>
              <ValueAxisHead scale={scale} step={niceStep(top)} unit={unit} />
            </th>
            <Column isFigure colSpan={2}>
              {t('used', { unit })}
            </Column>
            <Column isFigure>{t('balance')}</Column>
          </>
        }
      >
        <tbody>
          {shown.map((row) => (
            <Opening key={`${row.cylinderId}-${row.fromMs}`}>
              <IntervalRow row={row} gas={audit.gas} scale={scale} prefs={prefs} />
              <OpeningTableRow columns={7}>
                <IntervalTerms job={job} row={row} gas={audit.gas} prefs={prefs} />
              </OpeningTableRow>
            </Opening>
          ))}
        </tbody>
      </DataTable>
      {last ? (
        <p className="py-2">
          <ButtonLink href={nextHref(keyOf(last))}>
            {t('laterIntervals', { count: PAGE })}
          </ButtonLink>
        </p>
      ) : null}
    </>
  )
}

type RowProps = Readonly<{
  row: AuditInterval
  gas: GasCode
  scale: Scale
  prefs: FormatPrefs
}>

function IntervalRow({ row, gas, scale, prefs }: RowProps) {
  const t = useTranslations('audit')
  const { estimate, usage, difference, isWithin } = row.balance
  const unit = volumeUnit(prefs.units)
  const at = (kg: number) => volumeOf(gas, kg, prefs.units)
  const used = formatNumber(at(usage.mean))
  const off = formatNumber(at(Math.abs(difference.mean)))
  const isOver = difference.mean > 0
  return (
    <tr>
      <td className="whitespace-nowrap">
        {t('dayTime', {
          day: formatDay(new Date(row.fromMs), prefs),
          time: formatClock(row.fromMs, prefs),
        })}{' '}
        <span className="text-ink-2 max-desk:block">
          {t('to', { time: useEndWords(row, prefs) })}
        </span>
      </td>
      <td className="type-ident hidden whitespace-nowrap desk:table-cell">{row.serial}</td>
      <td className="hidden whitespace-nowrap desk:table-cell">
        {row.logNumbers.length > 0 ? t('logs', { numbers: runs(row.logNumbers) }) : t('noneLogged')}
      </td>
      <td className="hidden wide:table-cell">
        <EstimateBar
          scale={scale}
          estimate={{
            low: at(estimate?.low90 ?? 0),
            middle: at(estimate?.mean ?? 0),
            high: at(estimate?.high90 ?? 0),
          }}
          used={usedVolumes(gas, usage, prefs.units)}
          isOverShown={!isWithin && isOver}
        />
      </td>
      <FigureCells
        value={<OpeningNumber spoken={t('spokenUse', { value: used, unit })}>{used}</OpeningNumber>}
        interval={formatInterval(at(usage.low90), at(usage.high90))}
      />
      <td className={`is-figure ${!isWithin && isOver ? 'is-trouble' : 'text-ink-2'}`}>
        {isWithin ? t('within') : t(isOver ? 'over' : 'under', { value: off, unit })}
      </td>
    </tr>
  )
}

/** The day is said once where both readings are of one day. */
function useEndWords(row: AuditInterval, prefs: FormatPrefs): string {
  const t = useTranslations('audit')
  const day = formatDay(new Date(row.toMs), prefs)
  const time = formatClock(row.toMs, prefs)
  return formatDay(new Date(row.fromMs), prefs) === day ? time : t('dayTime', { day, time })
}

/** "1–3, 7": numbers that follow each other as one run. */
function runs(numbers: readonly number[]): string {
  const starts = numbers.filter((number) => !numbers.includes(number - 1))
  const ends = numbers.filter((number) => !numbers.includes(number + 1))
  return starts
    .map((start, index) => (start === ends[index] ? `${start}` : `${start}–${ends[index]}`))
    .join(', ')
}
