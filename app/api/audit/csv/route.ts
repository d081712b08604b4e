import { requireRouteViewer } from '@/lib/auth/viewer'
import type { CompanyAudit } from '@/lib/data/company-audit'
import { getSiteBalance, type SiteBalancePage } from '@/lib/data/findings/balance'
import type { AuditedJob, GasSide } from '@/lib/data/gas-audit'
import { balanceFilterSchema } from '@/lib/schemas/finding'
import { type JobReport, jobAsked, readJobReport } from '../job-report'
import { answerWithFile, readCompany, readReport } from '../report'

const HEAD =
  'job,title,site,crew,gas,share_of_list_cut,estimate_kg,estimate_low90_kg,estimate_high90_kg,used_kg,used_low90_kg,used_high90_kg,used_over_estimate,low90,high90,deviations'
const DECIMALS = 3

/** A cell that a spreadsheet reads as text, never as a formula. */
const text = (value: string) => `"${value.replaceAll('"', '""').replace(/^[=+\-@\t\r]/, "'$&")}"`
const number = (value: number) => value.toFixed(DECIMALS)

function lineOf(job: AuditedJob, side: GasSide): string[] {
  const audit = job[side]
  if (!audit) return []
  const { estimate, usage, ratio } = audit
  const cells = [
    ...[job.number, job.title, job.siteName, job.crewName ?? '', audit.gas].map(text),
    job.done ? number(job.done[side]) : '',
    ...[
      estimate.mean,
      estimate.low90,
      estimate.high90,
      usage.mean,
      usage.low90,
      usage.high90,
      ratio.mean,
      ratio.low90,
      ratio.high90,
      job.deviations[side] ?? 0,
    ].map(number),
  ]
  return [cells.join(',')]
}

const CREW_HEAD = 'crew,site,jobs,own_record,counts,site_factor,company_factor,factor,low90,high90'
const UNACCOUNTED_HEAD =
  'site,gas,beyond_work_kg,low90_kg,high90_kg,cost_minor,low90_minor,high90_minor,currency'
const optional = (value: number | null | undefined) =>
  value === null || value === undefined ? '' : number(value)

const crewLines = ({ crews }: CompanyAudit) =>
  crews.rows.map((crew) =>
    [
      ...[crew.crewName, crew.siteName].map(text),
      String(crew.jobs),
      ...[crew.own, crew.credibility, crew.siteFactor, crews.company?.mean].map(optional),
      ...[crew.mean, crew.low90, crew.high90].map(number),
    ].join(','),
  )

const unaccountedLines = ({ unaccounted }: CompanyAudit) =>
  unaccounted.rows.map(({ siteName, gas, unexplained, cost }) => {
    const { kg, low90Kg, high90Kg } = unexplained
    return [
      ...[siteName, gas].map(text),
      ...[kg, low90Kg, high90Kg].map(number),
      ...[cost?.minor, cost?.low90Minor, cost?.high90Minor].map(optional),
      text(unaccounted.currency),
    ].join(',')
  })

const ENTRY_HEAD =
  'gas,at_utc,cylinder,what,who,gauge_kpa,weight_kg,temperature_k,held_kg,held_u_kg,used_since_last_kg,doubt_kg,swapped_with,shared_with'

const entryLines = ({ sides }: JobReport) =>
  sides.flatMap(({ audit, entries }) =>
    entries.map(({ reading, heldKg, tookKg, doubtKg, swappedWith, sharedWith }) =>
      [
        text(audit.gas),
        new Date(reading.atMs).toISOString(),
        ...[reading.serial, reading.kind, reading.personName].map(text),
        ...[reading.gaugeKpa, reading.weightKg, reading.temperatureK].map(optional),
        ...[heldKg, reading.standardUncertaintyKg].map(number),
        optional(tookKg),
        number(doubtKg),
        ...[swappedWith ?? '', sharedWith.join(' ')].map(text),
      ].join(','),
    ),
  )

const WEEK_HEAD =
  'site,gas,week_of,used_kg,expected_kg,lost_kg,lost_u_kg,deviations,summed,limit,averaged'

function weekLines({ balance }: SiteBalancePage): string[] {
  if (!balance) return []
  const { siteName, gas, chart } = balance
  return chart.points.map(({ fromMs, used, expected, lost, z, state, average }) =>
    [
      ...[siteName, gas, new Date(fromMs).toISOString().slice(0, 10)].map(text),
      ...[used.kg, expected.kg, lost.kg, Math.sqrt(lost.variance)].map(number),
      ...[z, state.sum, chart.plan.h, average.average].map(number),
    ].join(','),
  )
}

/** The weeks of the site and gas that the address names. */
async function readWeeks(request: Request): Promise<SiteBalancePage> {
  const asked = Object.fromEntries(new URL(request.url).searchParams)
  return getSiteBalance(await requireRouteViewer(), balanceFilterSchema.parse(asked))
}

const csvOf = (name: string, lines: readonly string[]) => ({
  body: `${lines.join('\r\n')}\r\n`,
  type: 'text/csv; charset=utf-8',
  name,
})

/** The filter's jobs as CSV, kilograms, nine in ten; or its crews, or gas that nobody accounts for. */
export function GET(request: Request): Promise<Response> {
  return answerWithFile(async () => {
    const jobId = jobAsked(request)
    if (jobId) {
      const report = await readJobReport(jobId)
      return csvOf(`gas-audit-job-${report.job.number}.csv`, [ENTRY_HEAD, ...entryLines(report)])
    }
    const what = new URL(request.url).searchParams.get('what')
    if (what === 'weeks')
      return csvOf('site-balance.csv', [WEEK_HEAD, ...weekLines(await readWeeks(request))])
    if (what === 'crews')
      return csvOf('crew-factors.csv', [CREW_HEAD, ...crewLines(await readCompany(request))])
    if (what === 'unaccounted')
      return csvOf('unaccounted-gas.csv', [
        UNACCOUNTED_HEAD,
        ...unaccountedLines(await readCompany(request)),
      ])
    const { jobs, side } = await readReport(request)
    return csvOf(`gas-audit-${side}.csv`, [HEAD, ...jobs.flatMap((job) => lineOf(job, side))])
  })
}
