import { periodOf } from '@/app/(app)/audit/audit-view'
import type { Viewer } from '@/lib/access/viewer'
import { requireRouteViewer } from '@/lib/auth/viewer'
import {
  type AuditedJob,
  type AuditFilter,
  type AuditPage,
  type GasSide,
  listAudits,
} from '@/lib/data/gas-audit'
import { AppError, httpStatus } from '@/lib/errors'

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

/** A company's years of jobs go by pages; a file ends after so many. */
const MOST_PAGES = 40

/** Every job that the page's filter finds, a page at a time. */
async function readAll(viewer: Viewer, filter: Omit<AuditFilter, 'after'>): Promise<AuditedJob[]> {
  const jobs: AuditedJob[] = []
  let after: string | null = null
  for (let page = 0; page < MOST_PAGES; page += 1) {
    const found: AuditPage = await listAudits(viewer, { ...filter, after })
    jobs.push(...found.jobs)
    after = found.next
    if (!after) break
  }
  return jobs
}

/** The filter's jobs as CSV, kilograms, nine in ten. */
export async function GET(request: Request): Promise<Response> {
  try {
    const viewer = await requireRouteViewer()
    const asked = new URL(request.url).searchParams
    const side: GasSide = asked.get('gas') === 'fuel' ? 'fuel' : 'oxygen'
    const jobs = await readAll(viewer, {
      siteId: asked.get('site'),
      days: periodOf(asked.get('days')),
    })
    const body = [HEAD, ...jobs.flatMap((job) => lineOf(job, side))].join('\r\n')
    return new Response(`${body}\r\n`, {
      headers: {
        'content-type': 'text/csv; charset=utf-8',
        'content-disposition': `attachment; filename="gas-audit-${side}.csv"`,
        'cache-control': 'no-store',
      },
    })
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    return Response.json({ ok: false, code: error.code }, { status: httpStatus(error) })
  }
}
