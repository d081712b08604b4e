import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { rangeScale } from '@/app/_components/bar/scale'
import { EstimateBar } from '@/app/_components/charts/estimate-bar'
import { FactorWhisker } from '@/app/_components/charts/factor-whisker'
import { ValueAxisHead } from '@/app/_components/charts/value-axis-head'
import { Column, DataTable, FigureCells } from '@/app/_components/data-table'
import type { AuditedJob, GasSide } from '@/lib/data/gas-audit'
import { formatInterval, formatNumber } from '@/lib/format/numbers'
import { niceStep, percentDone, type Units, volumesOf, volumeUnit, whyNothing } from './audit-view'
import { BarKey } from './bar-key'

const BAR_PX = 300
const WHISKER_PX = 130
const FACTOR_ROUND = 0.5
/** Past this a whisker runs off the drawing; its number stands beside it. */
const FACTOR_MOST = 3

type TableProps = Readonly<{ jobs: readonly AuditedJob[]; side: GasSide; units: Units }>

/** From nothing to the highest end there is, so that no whisker is cut short without need. */
function factorScale(jobs: readonly AuditedJob[], side: GasSide) {
  const highs = jobs.flatMap((job) => (job[side] ? [job[side].ratio.high90] : []))
  const top =
    Math.ceil(Math.min(FACTOR_MOST, Math.max(1.25, ...highs)) / FACTOR_ROUND) * FACTOR_ROUND
  return rangeScale({ from: 0, to: top + 0.1, widthPx: WHISKER_PX })
}

/** Every job on one axis: the estimate's box over the ink of what was used, and their ratio. */
export function AuditTable({ jobs, side, units }: TableProps) {
  const t = useTranslations('audit')
  const volumes = jobs.flatMap((job) => (job[side] ? [volumesOf(job[side], units)] : []))
  const top = Math.max(1, ...volumes.flatMap((one) => [one.estimate.high, one.used.p95])) * 1.04
  const scale = rangeScale({ from: 0, to: top, widthPx: BAR_PX })
  const factor = factorScale(jobs, side)
  const unit = volumeUnit(units)
  return (
    <>
      <DataTable
        caption={t('caption')}
        head={
          <>
            <Column>{t('job')}</Column>
            <Column>{t('whatWhere')}</Column>
            <Column>{t('crew')}</Column>
            <th scope="col" className="hidden wide:table-cell" aria-label={t('bars')}>
              <ValueAxisHead scale={scale} step={niceStep(top)} unit={unit} />
            </th>
            <Column isFigure colSpan={2}>
              {t('estimate', { unit })}
            </Column>
            <Column isFigure colSpan={2}>
              {t('used', { unit })}
            </Column>
            <th scope="col" className="hidden wide:table-cell" aria-label={t('ratioBars')}>
              <ValueAxisHead scale={factor} step={1} decimals={1} />
            </th>
            <Column isFigure colSpan={2}>
              {t('ratio')}
            </Column>
            <Column isFigure>{t('off')}</Column>
          </>
        }
      >
        <tbody>
          {jobs.map((job) => (
            <AuditRow
              key={job.id}
              job={job}
              side={side}
              units={units}
              scale={scale}
              factor={factor}
            />
          ))}
        </tbody>
      </DataTable>
      <BarKey />
    </>
  )
}

type RowProps = Readonly<{
  job: AuditedJob
  side: GasSide
  units: Units
  scale: ReturnType<typeof rangeScale>
  factor: ReturnType<typeof rangeScale>
}>

function AuditRow({ job, side, units, scale, factor }: RowProps) {
  const t = useTranslations('audit')
  const audit = job[side]
  const what = (
    <>
      <td>
        <Link
          href={`/audit/${job.id}`}
          className="type-ident text-ink underline decoration-cobalt underline-offset-4"
        >
          {job.number}
        </Link>
      </td>
      <td>
        {t('where', { title: job.title, site: job.siteName })}
        <DoneNote job={job} side={side} />
      </td>
      <td className="whitespace-nowrap">{job.crewName ?? t('noCrew')}</td>
    </>
  )
  if (!audit)
    return (
      <tr>
        {what}
        <td colSpan={9} className="text-ink-2">
          {t(whyNothing(job, side))}
        </td>
      </tr>
    )
  const { estimate, used } = volumesOf(audit, units)
  const { ratio } = audit
  const isOff = ratio.low90 > 1 || ratio.high90 < 1
  return (
    <tr>
      {what}
      <td className="hidden wide:table-cell">
        <EstimateBar scale={scale} estimate={estimate} used={used} isOverShown />
      </td>
      <FigureCells
        value={formatNumber(estimate.middle)}
        interval={formatInterval(estimate.low, estimate.high)}
      />
      <FigureCells value={formatNumber(used.p50)} interval={formatInterval(used.p05, used.p95)} />
      <td className="hidden wide:table-cell">
        <FactorWhisker scale={factor} value={ratio.mean} low={ratio.low90} high={ratio.high90} />
      </td>
      <FigureCells
        value={formatNumber(ratio.mean, 2)}
        interval={formatInterval(ratio.low90, ratio.high90, 2)}
        isTrouble={isOff}
      />
      <td className="is-figure text-ink-2">{formatNumber(job.deviations[side] ?? 0, 1)}</td>
    </tr>
  )
}

/** How much of the list was cut, where it is not just all of it. */
function DoneNote({ job, side }: Readonly<{ job: AuditedJob; side: GasSide }>) {
  const t = useTranslations('audit')
  const percent = percentDone(job, side)
  if (!job.isRunning && (percent === null || percent === 100)) return null
  return (
    <span className="text-ink-2">
      {' '}
      {percent === null
        ? t('running')
        : t('doneShare', { percent, running: job.isRunning ? 'yes' : 'no' })}
    </span>
  )
}
