import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { Column, DataTable, FigureCells } from '@/app/_components/data-table'
import type { JobAudit } from '@/lib/calc/audit-types'
import { accountFor } from '@/lib/calc/job-account'
import type { ListedFinding } from '@/lib/data/findings/list'
import type { JobAuditDetail } from '@/lib/data/gas-audit'
import { formatInterval, formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { volumeOf, volumeUnit } from '../audit-view'
import { causeParams, sizeWords } from '../findings/finding-view'

const ROWS = ['estimate', 'allowance', 'rest', 'usage'] as const

type Props = Readonly<{ job: JobAuditDetail; audit: JobAudit; prefs: FormatPrefs }>

export const accountOf = (job: JobAuditDetail, audit: JobAudit) =>
  accountFor({ estimate: audit.estimate, usage: audit.usage, factor: job.crewFactor })

/** Where the use went: estimate, what the crew is known to take, what is left. It adds up. */
export function JobAccountTable({ job, audit, prefs }: Props) {
  const t = useTranslations('audit.account')
  const factor = job.crewFactor
  const account = accountOf(job, audit)
  const at = (kg: number) => volumeOf(audit.gas, kg, prefs.units)
  return (
    <DataTable
      caption={t('caption', { gas: audit.gas })}
      head={
        <>
          <Column>{t('head', { gas: audit.gas })}</Column>
          <Column isFigure colSpan={2}>
            {volumeUnit(prefs.units)}
          </Column>
        </>
      }
    >
      <tbody>
        {ROWS.map((row) => {
          const { mean, low90, high90 } = account[row]
          const isOff = row === 'rest' && (low90 > 0 || high90 < 0)
          return (
            <tr key={row}>
              <th scope="row" className={row === 'usage' ? 'font-[650]' : ''}>
                {row === 'allowance'
                  ? t('allowance', {
                      factor: factor ? formatNumber(factor.mean, 2) : 'none',
                      u: formatNumber(factor?.standardUncertainty ?? 0, 2),
                    })
                  : t(row)}
              </th>
              <FigureCells
                value={formatNumber(at(mean))}
                interval={formatInterval(at(low90), at(high90))}
                isTrouble={isOff}
              />
            </tr>
          )
        })}
      </tbody>
    </DataTable>
  )
}

/** What did not balance on this job, with the cause that fits best. */
export function JobFindings({
  findings,
  prefs,
}: Readonly<{ findings: readonly ListedFinding[]; prefs: FormatPrefs }>) {
  const t = useTranslations('findings')
  if (findings.length === 0) return null
  return (
    <section className="mt-6 min-w-0">
      <h2 className="type-section mb-1 border-b-2 border-ink pb-1">{t('ofJob')}</h2>
      <ul>
        {findings.map((finding) => {
          const [cause] = finding.causes
          if (!cause) return null
          const size = sizeWords(cause, finding.gas, prefs.units)
          return (
            <li key={finding.id} className="border-b border-rule py-2">
              <Link
                href={`/audit/findings/${finding.id}`}
                className="font-[650] text-ink underline decoration-cobalt underline-offset-4"
              >
                {t('title', causeParams(cause, finding.serials))}
              </Link>{' '}
              <span className="text-ink-2">
                {t('jobNote', {
                  size: size.value,
                  unit: size.unit,
                  decision: finding.standing?.decision ?? 'none',
                  who: finding.standing?.personName ?? '',
                })}
              </span>
            </li>
          )
        })}
      </ul>
    </section>
  )
}
