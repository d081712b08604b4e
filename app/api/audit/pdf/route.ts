import { getTranslations } from 'next-intl/server'
import { periodText, volumeOf, volumeUnit } from '@/app/(app)/audit/audit-view'
import { shareWords } from '@/app/(app)/audit/findings/finding-view'
import { frameFor } from '@/lib/auth/frame'
import type { AuditedJob } from '@/lib/data/gas-audit'
import { formatDate } from '@/lib/format/clock'
import { formatAboutMoney, formatInterval, formatNumber } from '@/lib/format/numbers'
import { jobAsked, readJobReport } from '../job-report'
import { answerWithFile, METHODS, readCompany, readReport, readReportFindings } from '../report'
import { auditPdf } from './audit-pdf'
import { findingTable } from './finding-table'
import { jobPaper } from './job-paper'

const TYPE = 'application/pdf'

/** The filter's audit as a paper that can be handed over: jobs, findings, methods and sources. */
export function GET(request: Request): Promise<Response> {
  return answerWithFile(async () => {
    const jobId = jobAsked(request)
    if (jobId) {
      const report = await readJobReport(jobId)
      const paper = await auditPdf(await jobPaper(report))
      const name = `gas-audit-job-${report.job.number}.pdf`
      return { body: new Uint8Array(paper), type: TYPE, name }
    }
    const { viewer, jobs, side, days } = await readReport(request)
    const [{ findings, currency }, company, frame] = await Promise.all([
      readReportFindings(request, viewer),
      readCompany(request),
      frameFor(viewer),
    ])
    const [t, a, f] = await Promise.all([
      getTranslations('auditReport'),
      getTranslations('audit'),
      getTranslations('findings'),
    ])
    const { units } = viewer
    const unit = volumeUnit(units)
    const decimals = units === 'us' ? 0 : 1
    const jobRow = (job: AuditedJob) => {
      const audit = job[side]
      if (!audit) return []
      const at = (kg: number) => volumeOf(audit.gas, Math.max(0, kg), units)
      const said = ({ mean, low90, high90 }: typeof audit.usage) =>
        `${formatNumber(at(mean), decimals)} (${formatInterval(at(low90), at(high90), decimals)})`
      const { ratio } = audit
      return [
        [
          job.number,
          a('where', { title: job.title, site: job.siteName }),
          job.crewName ?? a('noCrew'),
          said(audit.estimate),
          said(audit.usage),
          `${formatNumber(ratio.mean, 2)} (${formatInterval(ratio.low90, ratio.high90, 2)})`,
        ],
      ]
    }
    const when = formatDate(frame.nowMs, { timeZone: frame.timeZone })
    const body = await auditPdf({
      title: a('title'),
      lines: [
        frame.name,
        a('looksAt', { side, days: periodText(days as Parameters<typeof periodText>[0]) }),
        t('madeBy', { name: viewer.name, when }),
      ],
      tables: [
        {
          title: t('jobsOf', { side }),
          columns: [
            { head: a('job'), share: 0.08 },
            { head: a('whatWhere'), share: 0.28 },
            { head: a('crew'), share: 0.12 },
            { head: a('estimate', { unit }), share: 0.19, isFigure: true },
            { head: a('used', { unit }), share: 0.19, isFigure: true },
            { head: a('ratio'), share: 0.14, isFigure: true },
          ],
          rows: jobs.flatMap(jobRow),
        },
        {
          title: t('crewsOf'),
          columns: [
            { head: a('crews.crew'), share: 0.36 },
            { head: a('crews.jobs'), share: 0.1, isFigure: true },
            { head: a('crews.own'), share: 0.13, isFigure: true },
            { head: a('crews.weight'), share: 0.11, isFigure: true },
            { head: a('crews.site'), share: 0.1, isFigure: true },
            { head: a('crews.factor'), share: 0.2, isFigure: true },
          ],
          rows: company.crews.rows.map((crew) => [
            a('crews.crewAt', { crew: crew.crewName, site: crew.siteName }),
            String(crew.jobs),
            crew.own === null ? '' : formatNumber(crew.own, 2),
            crew.credibility === null ? '' : shareWords(crew.credibility),
            crew.siteFactor === null ? '' : formatNumber(crew.siteFactor, 2),
            `${formatNumber(crew.mean, 2)} (${formatInterval(crew.low90, crew.high90, 2)})`,
          ]),
        },
        {
          title: t('unaccountedOf'),
          columns: [
            { head: f('where'), share: 0.3 },
            { head: a('gas'), share: 0.2 },
            { head: a('unaccounted.beyond', { unit }), share: 0.3, isFigure: true },
            { head: a('unaccounted.cost'), share: 0.2, isFigure: true },
          ],
          rows: company.unaccounted.rows.map(({ siteName, gas, unexplained, cost }) => {
            const { kg, low90Kg, high90Kg } = unexplained
            const at = (one: number) => volumeOf(gas, one, units)
            return [
              siteName,
              a('gasName', { gas }),
              `${formatNumber(at(kg), decimals)} (${formatInterval(at(low90Kg), at(high90Kg), decimals)})`,
              cost
                ? formatAboutMoney(cost.minor / 100, company.unaccounted.currency)
                : f('noPrice'),
            ]
          }),
        },
        await findingTable(findings, { units, currency }),
      ],
      appendix: { title: t('methods'), paragraphs: METHODS.map((key) => t(`method.${key}`)) },
      foot: t('foot'),
      page: (n, of) => t('page', { n, of }),
    })
    return { body: new Uint8Array(body), type: TYPE, name: `gas-audit-${side}.pdf` }
  })
}
