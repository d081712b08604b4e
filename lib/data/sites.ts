import 'server-only'
import { sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { db } from './client'

export type SiteFrame = Readonly<{
  id: string
  name: string
  shortName: string
  kind: string
  zone: string
}>
export type ResolvedSite = SiteFrame & Readonly<{ others: readonly SiteFrame[] }>

const FRAME_COLUMNS = { id: true, name: true, shortName: true, kind: true, zone: true } as const

/** The sites on which the viewer holds anything, in the order in which it was granted. */
export async function listMySites(viewer: Viewer): Promise<SiteFrame[]> {
  const siteIds = sitesWhere(viewer, 'site:read')
  const sites = await db.site.findMany({ where: { id: { in: siteIds } }, select: FRAME_COLUMNS })
  return sites.sort((a, b) => siteIds.indexOf(a.id) - siteIds.indexOf(b.id))
}

/** The site that an address names, else the viewer's first. Another's site answers NOT_FOUND. */
export async function resolveSite(
  viewer: Viewer,
  wanted: string | string[] | undefined,
): Promise<ResolvedSite> {
  const sites = await listMySites(viewer)
  const site = wanted === undefined ? sites[0] : sites.find((mine) => mine.id === wanted)
  if (!site) throw new AppError('NOT_FOUND')
  return { ...site, others: sites.filter((other) => other.id !== site.id) }
}

/** The sites whose people and places the viewer may change. */
export async function listWrittenSites(
  viewer: Viewer,
): Promise<readonly Readonly<{ id: string; name: string }>[]> {
  const siteIds = sitesWhere(viewer, 'people:write')
  if (siteIds.length === 0) throw new AppError('FORBIDDEN', { action: 'people:write' })
  return db.site.findMany({
    where: { id: { in: siteIds } },
    orderBy: { name: 'asc' },
    select: { id: true, name: true },
  })
}
