import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { rangeScale } from '@/app/_components/bar/scale'
import { EstimateBar } from '@/app/_components/charts/estimate-bar'
import { FactorWhisker } from '@/app/_components/charts/factor-whisker'
import { ValueAxisHead } from '@/app/_components/charts/value-axis-head'
import { Column, DataTable, FigureCells } from '@/app/_components/data-table'
import type { AuditedJob, GasSide } from '@/lib/data/gas-audit'
import { formatInterval, formatNumber } from '@/lib/format/numbers'
import { type Units, volumesOf, volumeUnit } from './audit-view'

const BAR_PX = 420
const WHISKER_PX = 130
const FACTOR = rangeScale({ from: 0.6, to: 1.6, widthPx: WHISKER_PX })

type TableProps = Readonly<{ jobs: readonly AuditedJob[]; side: GasSide; units: Units }>

const stepFor = (top: number) => {
  const rough = top / 4
  const power = 10 ** Math.floor(Math.log10(Math.max(rough, 1e-9)))
  return power * ([1, 2, 5, 10].find((step) => step * power >= rough) ?? 10)
}

/** Every job on one axis: the estimate's box over the ink of what was used, and their ratio. */
export function AuditTable({ jobs, side, units }: TableProps) {
  const t = useTranslations('audit')
  const volumes = jobs.flatMap((job) => (job[side] ? [volumesOf(job[side], units)] : []))
  const top = Math.max(1, ...volumes.flatMap((one) => [one.estimate.high, one.used.p95])) * 1.04
  const scale = rangeScale({ from: 0, to: top, widthPx: BAR_PX })
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
              <ValueAxisHead scale={scale} step={stepFor(top)} unit={unit} />
            </th>
            <Column isFigure colSpan={2}>
              {t('estimate', { unit })}
            </Column>
            <Column isFigure colSpan={2}>
              {t('used', { unit })}
            </Column>
            <th scope="col" className="hidden wide:table-cell" aria-label={t('ratioBars')}>
              <ValueAxisHead scale={FACTOR} step={0.2} decimals={1} />
            </th>
            <Column isFigure colSpan={2}>
              {t('ratio')}
            </Column>
          </>
        }
      >
        <tbody>
          {jobs.map((job) => (
            <AuditRow key={job.id} job={job} side={side} units={units} scale={scale} />
          ))}
        </tbody>
      </DataTable>
      <p className="mt-2 type-small text-ink-2">{t('key')}</p>
    </>
  )
}

type RowProps = Readonly<{
  job: AuditedJob
  side: GasSide
  units: Units
  scale: ReturnType<typeof rangeScale>
}>

function AuditRow({ job, side, units, scale }: RowProps) {
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
        {job.isRunning ? <span className="text-ink-2"> {t('running')}</span> : null}
      </td>
      <td className="whitespace-nowrap">{job.crewName ?? t('noCrew')}</td>
    </>
  )
  if (!audit)
    return (
      <tr>
        {what}
        <td colSpan={8} className="text-ink-2">
          {t(job.estimate ? 'noReadings' : 'noEstimate')}
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
        <FactorWhisker scale={FACTOR} value={ratio.mean} low={ratio.low90} high={ratio.high90} />
      </td>
      <FigureCells
        value={formatNumber(ratio.mean, 2)}
        interval={formatInterval(ratio.low90, ratio.high90, 2)}
        isTrouble={isOff}
      />
    </tr>
  )
}
