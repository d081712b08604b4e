import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { Column, DataTable, FigureCells } from '@/app/_components/data-table'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import type { JobSummary } from '@/lib/data/jobs'
import type { FormatPrefs } from '@/lib/format/prefs'
import { gasFigure, withUnit } from '../jobs/figures'
import { PieceWords } from '../jobs/piece-words'
import { plannedDays } from '../jobs/planned-days'

/** Jobs at a desk: each gas with its interval beside it. */
export function JobTable({
  jobs,
  prefs,
}: Readonly<{ jobs: readonly JobSummary[]; prefs: FormatPrefs }>) {
  const t = useTranslations('jobs')
  const head = (
    <>
      <Column>{t('job')}</Column>
      <Column>{t('crew')}</Column>
      <Column>{t('planned')}</Column>
      <Column isFigure>{t('cutsLeftHead')}</Column>
      <Column isFigure>{t('gas.oxygen')}</Column>
      <Column>{t('nineInTen')}</Column>
      <Column isFigure>{t('fuel')}</Column>
      <Column>{t('nineInTen')}</Column>
      <Column>{t('heaviest')}</Column>
    </>
  )
  return (
    <DataTable caption={t('tableCaption')} head={head}>
      <tbody>
        {jobs.map((job) => (
          <tr key={job.id}>
            <td>
              <Link href={`/jobs/${job.id}`} className="text-ink">
                <span className="type-ident">{job.number}</span> <b>{job.title}</b>
              </Link>
              {job.refusedCuts > 0 ? (
                <span className="trouble ml-3">
                  <AnswerMark name="refused" sizePx={14} />
                  {t('refusedCuts', { count: job.refusedCuts })}
                </span>
              ) : null}
            </td>
            <td>{job.crewName}</td>
            <td>{plannedDays(job, t)}</td>
            <td className="is-figure">{t('ofAll', { left: job.cutsLeft, all: job.cutsInAll })}</td>
            <GasCells gas="oxygen" amount={job.oxygen} prefs={prefs} />
            <GasCells gas={job.fuel ?? ''} amount={job.fuelGas} prefs={prefs} />
            <td>
              <PieceWords piece={job.heaviest} prefs={prefs} />
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  )
}

function GasCells({
  gas,
  amount,
  prefs,
}: Readonly<{ gas: string; amount: JobSummary['oxygen']; prefs: FormatPrefs }>) {
  const t = useTranslations('jobs')
  if (!amount)
    return (
      <>
        <td className="is-figure text-ink-3">–</td>
        <td />
      </>
    )
  const figure = gasFigure(gas, amount, prefs)
  const name = gas === 'oxygen' ? '' : `${t(`gas.${gas}` as 'gas.propane')} `
  return <FigureCells value={`${name}${withUnit(figure)}`} interval={figure.interval} />
}
