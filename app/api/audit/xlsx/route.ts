import { getTranslations } from 'next-intl/server'
import type { ListedFinding } from '@/lib/data/findings/list'
import type { AuditedJob, GasSide } from '@/lib/data/gas-audit'
import { workbookOf } from '@/lib/format/workbook'
import { jobAsked, readJobReport } from '../job-report'
import { answerWithFile, METHODS, readCompany, readReport, readReportFindings } from '../report'
import { jobSheets } from './job-sheets'

const TYPE = 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet'
const JOB_HEADS = [
  'job',
  'title',
  'site',
  'crew',
  'gas',
  'share',
  'estimate',
  'low',
  'high',
  'used',
  'low',
  'high',
  'difference',
  'deviations',
  'ratio',
  'low',
  'high',
] as const
const CREW_HEADS = [
  'crew',
  'site',
  'jobs',
  'own',
  'counts',
  'siteFactor',
  'companyFactor',
  'factor',
  'low',
  'high',
] as const
const UNACCOUNTED_HEADS = ['site', 'gas', 'beyond', 'low', 'high', 'worth', 'low', 'high'] as const
const MINOR = 100
const FINDING_HEADS = [
  'finding',
  'cylinders',
  'site',
  'gas',
  'since',
  'kg',
  'uKg',
  'belief',
  'worth',
  'decision',
  'by',
  'note',
] as const

function jobRow(job: AuditedJob, side: GasSide) {
  const audit = job[side]
  if (!audit) return []
  const { estimate, usage, difference, ratio } = audit
  return [
    [
      job.number,
      job.title,
      job.siteName,
      job.crewName,
      audit.gas,
      job.done?.[side] ?? null,
      estimate.mean,
      estimate.low90,
      estimate.high90,
      usage.mean,
      usage.low90,
      usage.high90,
      difference.mean,
      audit.z,
      ratio.mean,
      ratio.low90,
      ratio.high90,
    ],
  ]
}

/** The filter's jobs, findings and the methods behind them as a workbook, in kilograms. */
export function GET(request: Request): Promise<Response> {
  return answerWithFile(async () => {
    const jobId = jobAsked(request)
    if (jobId) {
      const report = await readJobReport(jobId)
      const book = await workbookOf(await jobSheets(report))
      const name = `gas-audit-job-${report.job.number}.xlsx`
      return { body: new Uint8Array(book), type: TYPE, name }
    }
    const { viewer, jobs, side } = await readReport(request)
    const [{ findings }, company] = await Promise.all([
      readReportFindings(request, viewer),
      readCompany(request),
    ])
    const [t, w] = await Promise.all([getTranslations('auditReport'), getTranslations('findings')])
    const findingRow = (finding: ListedFinding) => {
      const [cause] = finding.causes
      if (!cause) return []
      return [
        [
          w('cause', { kind: cause.kind, how: cause.how ?? 'none' }),
          finding.serials.join(', '),
          finding.siteName,
          finding.gas,
          new Date(cause.fromMs).toISOString().slice(0, 10),
          Math.abs(cause.sizeKg),
          cause.standardUncertaintyKg,
          cause.probability,
          finding.costMinor === null ? null : finding.costMinor / 100,
          finding.standing?.decision ?? null,
          finding.standing?.personName ?? null,
          finding.standing?.note ?? null,
        ],
      ]
    }
    const body = await workbookOf([
      {
        name: t('jobs'),
        head: JOB_HEADS.map((head) => t(`heads.${head}`)),
        rows: jobs.flatMap((job) => jobRow(job, side)),
      },
      {
        name: t('findings'),
        head: FINDING_HEADS.map((head) => t(`heads.${head}`)),
        rows: findings.flatMap(findingRow),
      },
      {
        name: t('crews'),
        head: CREW_HEADS.map((head) => t(`heads.${head}`)),
        rows: company.crews.rows.map((crew) => [
          crew.crewName,
          crew.siteName,
          crew.jobs,
          crew.own,
          crew.credibility,
          crew.siteFactor,
          company.crews.company?.mean ?? null,
          crew.mean,
          crew.low90,
          crew.high90,
        ]),
      },
      {
        name: t('unaccounted'),
        head: UNACCOUNTED_HEADS.map((head) => t(`heads.${head}`)),
        rows: company.unaccounted.rows.map(({ siteName, gas, unexplained, cost }) => [
          siteName,
          gas,
          unexplained.kg,
          unexplained.low90Kg,
          unexplained.high90Kg,
          cost ? cost.minor / MINOR : null,
          cost ? cost.low90Minor / MINOR : null,
          cost ? cost.high90Minor / MINOR : null,
        ]),
      },
      {
        name: t('methods'),
        head: [t('methods')],
        rows: METHODS.map((key) => [t(`method.${key}`)]),
      },
    ])
    return { body: new Uint8Array(body), type: TYPE, name: `gas-audit-${side}.xlsx` }
  })
}
