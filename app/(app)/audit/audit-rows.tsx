import { useTranslations } from 'next-intl'
import { PlainRow } from '@/app/_components/row'
import type { AuditedJob, GasSide } from '@/lib/data/gas-audit'
import { formatInterval, formatNumber } from '@/lib/format/numbers'
import { type Units, volumesOf, volumeUnit, whyNothing } from './audit-view'

/** On a phone: title, number, note. */
export function AuditRows({
  jobs,
  side,
  units,
}: Readonly<{ jobs: readonly AuditedJob[]; side: GasSide; units: Units }>) {
  const t = useTranslations('audit')
  const unit = volumeUnit(units)
  return (
    <ul className="plain-rows border-t border-rule">
      {jobs.map((job) => {
        const audit = job[side]
        const said = audit ? volumesOf(audit, units) : null
        return (
          <PlainRow
            key={job.id}
            href={`/audit/${job.id}`}
            title={t('rowTitle', { number: job.number, title: job.title })}
            note={
              said && audit
                ? t('rowNote', {
                    used: formatNumber(said.used.p50),
                    usedInterval: formatInterval(said.used.p05, said.used.p95),
                    estimate: formatNumber(said.estimate.middle),
                    unit,
                  })
                : t(whyNothing(job, side))
            }
            aside={audit ? t('times', { ratio: formatNumber(audit.ratio.mean, 2) }) : null}
          />
        )
      })}
    </ul>
  )
}
