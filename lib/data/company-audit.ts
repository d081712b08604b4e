import 'server-only'
import { assertCan, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { type CrewFactorRow, type CrewPage, pageOfCrews } from './company-crews'
import { pageOfUnaccounted, type UnaccountedPage, type UnaccountedRow } from './company-unaccounted'

/** Rows of each list on a page. */
const PAGE = 15
/** Rows at once where all are wanted, for a file. */
const AT_ONCE = 500

export type CompanyFilter = Readonly<{ siteId: string | null; days: number | null }>
export type CompanyAfter = Readonly<{
  crews?: string | undefined
  unaccounted?: string | undefined
}>

export type CompanyAudit = Readonly<{ crews: CrewPage; unaccounted: UnaccountedPage }>

function auditedSites(viewer: Viewer, siteId: string | null): readonly string[] {
  if (siteId) assertCan(viewer, 'audit:read', siteId)
  const siteIds = siteId ? [siteId] : sitesWhere(viewer, 'audit:read')
  if (siteIds.length === 0) throw new AppError('FORBIDDEN', { action: 'audit:read' })
  return siteIds
}

/** How a company's crews run, and what its unaccounted gas costs, as the last look found them: a page of each. */
export async function getCompanyAudit(
  viewer: Viewer,
  { siteId, days }: CompanyFilter,
  after: CompanyAfter = {},
): Promise<CompanyAudit> {
  const siteIds = auditedSites(viewer, siteId)
  const [crews, unaccounted] = await Promise.all([
    pageOfCrews({ siteIds, after: after.crews ?? null, most: PAGE }),
    pageOfUnaccounted({ siteIds, days, after: after.unaccounted ?? null, most: PAGE }),
  ])
  return { crews, unaccounted }
}

/** The same whole, for a file of it. */
export async function getWholeCompanyAudit(
  viewer: Viewer,
  { siteId, days }: CompanyFilter,
): Promise<CompanyAudit> {
  const siteIds = auditedSites(viewer, siteId)
  const [crewRows, unaccountedRows]: [CrewFactorRow[], UnaccountedRow[]] = [[], []]
  let crews = await pageOfCrews({ siteIds, after: null, most: AT_ONCE })
  crewRows.push(...crews.rows)
  while (crews.next) {
    crews = await pageOfCrews({ siteIds, after: crews.next, most: AT_ONCE })
    crewRows.push(...crews.rows)
  }
  let unaccounted = await pageOfUnaccounted({ siteIds, days, after: null, most: AT_ONCE })
  unaccountedRows.push(...unaccounted.rows)
  while (unaccounted.next) {
    unaccounted = await pageOfUnaccounted({
      siteIds,
      days,
      after: unaccounted.next,
      most: AT_ONCE,
    })
    unaccountedRows.push(...unaccounted.rows)
  }
  return {
    crews: { ...crews, rows: crewRows },
    unaccounted: { ...unaccounted, rows: unaccountedRows },
  }
}
