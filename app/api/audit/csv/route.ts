import type { AuditedJob, GasSide } from '@/lib/data/gas-audit'
import { answerWithFile, readReport } from '../report'

const HEAD =
  'job,title,site,crew,gas,share_of_list_cut,estimate_kg,estimate_low90_kg,estimate_high90_kg,used_kg,used_low90_kg,used_high90_kg,used_over_estimate,low90,high90'
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
    ].map(number),
  ]
  return [cells.join(',')]
}

/** The filter's jobs as CSV, kilograms, nine in ten. */
export function GET(request: Request): Promise<Response> {
  return answerWithFile(async () => {
    const { jobs, side } = await readReport(request)
    const body = [HEAD, ...jobs.flatMap((job) => lineOf(job, side))].join('\r\n')
    return {
      body: `${body}\r\n`,
      type: 'text/csv; charset=utf-8',
      name: `gas-audit-${side}.csv`,
    }
  })
}
