import 'server-only'
import { periodOf } from '@/app/(app)/audit/audit-view'
import type { Viewer } from '@/lib/access/viewer'
import { requireRouteViewer } from '@/lib/auth/viewer'
import { type CompanyAudit, getWholeCompanyAudit } from '@/lib/data/company-audit'
import { type FindingQueue, type ListedFinding, listFindings } from '@/lib/data/findings/list'
import { type AuditedJob, type AuditPage, type GasSide, listAudits } from '@/lib/data/gas-audit'
import type { AuditFilter } from '@/lib/data/gas-audit-pages'
import { AppError, httpStatus } from '@/lib/errors'

/** What a report says of its methods, in order: words of `auditReport.method`. */
export const METHODS = [
  'use',
  'contents',
  'estimate',
  'interval',
  'crews',
  'loss',
  'finding',
  'correction',
] as const

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

export type AuditReport = Readonly<{
  viewer: Viewer
  side: GasSide
  days: number | null
  jobs: readonly AuditedJob[]
}>

/** What the page's own filter shows, for a file of it. */
export async function readReport(request: Request): Promise<AuditReport> {
  const viewer = await requireRouteViewer()
  const asked = new URL(request.url).searchParams
  const days = periodOf(asked.get('days'))
  return {
    viewer,
    side: asked.get('gas') === 'fuel' ? 'fuel' : 'oxygen',
    days,
    jobs: await readAll(viewer, {
      siteId: asked.get('site'),
      days,
      order: asked.get('order') === 'off' ? 'off' : 'latest',
      side: asked.get('gas') === 'fuel' ? 'fuel' : 'oxygen',
    }),
  }
}

/** Crews and unaccounted gas of the page's own filter. */
export async function readCompany(request: Request): Promise<CompanyAudit> {
  const viewer = await requireRouteViewer()
  const asked = new URL(request.url).searchParams
  return getWholeCompanyAudit(viewer, {
    siteId: asked.get('site'),
    days: periodOf(asked.get('days')),
  })
}

/** Findings of the same site, open ones first. */
export async function readReportFindings(
  request: Request,
  viewer: Viewer,
): Promise<{ findings: readonly ListedFinding[]; currency: string }> {
  const site = new URL(request.url).searchParams.get('site')
  const findings: ListedFinding[] = []
  let currency = ''
  for (const show of ['open', 'decided'] as const)
    for (let after: string | null | undefined; after !== null; ) {
      const page: FindingQueue = await listFindings(viewer, { site, show }, after)
      findings.push(...page.findings)
      currency = page.currency
      after = page.next
    }
  return { findings, currency }
}

/** The file as an answer, or what was refused. */
export async function answerWithFile(
  make: () => Promise<Readonly<{ body: BodyInit; type: string; name: string }>>,
): Promise<Response> {
  try {
    const { body, type, name } = await make()
    return new Response(body, {
      headers: {
        'content-type': type,
        'content-disposition': `attachment; filename="${name}"`,
        'cache-control': 'no-store',
      },
    })
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    return Response.json({ ok: false, code: error.code }, { status: httpStatus(error) })
  }
}
