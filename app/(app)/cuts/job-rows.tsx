import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { NumberParts } from '@/app/_components/number-parts'
import type { JobSummary } from '@/lib/data/jobs'
import type { FormatPrefs } from '@/lib/format/prefs'
import { gasFigure, withUnit } from '../jobs/figures'
import { PieceWords } from '../jobs/piece-words'
import { plannedDays } from '../jobs/planned-days'

type Listed = Readonly<{ jobs: readonly JobSummary[]; prefs: FormatPrefs }>

/** Jobs on a phone: title and the oxygen it may take, then fuel and the heaviest piece. */
export function JobRows({ jobs, prefs }: Listed) {
  return (
    <ul className="border-t border-rule">
      {jobs.map((job) => (
        <JobRow key={job.id} job={job} prefs={prefs} />
      ))}
    </ul>
  )
}

function JobRow({ job, prefs }: Readonly<{ job: JobSummary; prefs: FormatPrefs }>) {
  const t = useTranslations('jobs')
  const oxygen = job.oxygen ? gasAtMost('oxygen', job.oxygen.high90Kg, prefs) : null
  return (
    <li className="relative border-b border-rule px-4 pt-2 pb-3">
      <div className="flex items-end justify-between gap-2">
        <h2 className="type-row-title min-w-0">
          <Link href={`/jobs/${job.id}`} className="text-ink after:absolute after:inset-0">
            <span className="type-ident font-normal">{job.number}</span> {job.title}
          </Link>
        </h2>
        {oxygen ? <NumberParts before={t('upTo')} parts={[oxygen]} /> : null}
      </div>
      <div className="flex justify-between gap-2 type-note text-ink-2">
        <span>{t('cutsLeft', { left: job.cutsLeft, all: job.cutsInAll })}</span>
        <span>
          {job.fuel && job.fuelGas
            ? t('gasUpTo', {
                gas: t(`gas.${job.fuel}`),
                amount: withUnit(gasAtMost(job.fuel, job.fuelGas.high90Kg, prefs)),
              })
            : null}
        </span>
      </div>
      <div className="flex justify-between gap-2 type-note text-ink-2">
        <span>
          {plannedDays(job, t)}
          {job.crewName ? `, ${job.crewName}` : ''}
        </span>
        <PieceWords piece={job.heaviest} prefs={prefs} />
      </div>
      {job.refusedCuts > 0 ? (
        <p className="trouble type-note mt-1">
          <AnswerMark name="refused" />
          {t('refusedCuts', { count: job.refusedCuts })}
        </p>
      ) : null}
    </li>
  )
}

function gasAtMost(gas: string, highKg: number, prefs: FormatPrefs) {
  return gasFigure(gas, { meanKg: highKg, low90Kg: highKg, high90Kg: highKg }, prefs)
}
