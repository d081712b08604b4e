import 'server-only'
import { sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { db } from './client'
import { cylinderScope } from './cylinders'

const PAGE = 50

export type CylinderEventRow = Readonly<{
  id: string
  seq: number
  kind: string
  at: Date
  recordedAt: Date
  deviceAt: Date | null
  personName: string
  roleThen: string
  siteName: string
  toSiteName: string | null
  outfitNumber: string | null
  side: 'oxygen' | 'fuel' | null
  gaugeKpa: number | null
  weightKg: number | null
  temperatureK: number | null
  contentsKg: number | null
  contentsUKg: number | null
  markedEmpty: boolean
  reason: string | null
  /** The number of the event that this one corrects. */
  correctsSeq: number | null
  /** Number and code of its entry in the site's record. */
  entrySeq: number | null
  entryCode: string | null
}>

export type CylinderHistory = Readonly<{
  events: readonly CylinderEventRow[]
  next: number | null
  elsewhere: number
}>

/**
 * What happened to a cylinder at the viewer's sites, newest first, a page of fifty below `beforeSeq`.
 * What happened elsewhere is only counted.
 */
export async function listCylinderEvents(
  viewer: Viewer,
  cylinderId: string,
  beforeSeq: number | null,
): Promise<CylinderHistory> {
  const cylinder = await db.cylinder.findFirst({
    where: cylinderScope(viewer, cylinderId),
    select: { lastSeq: true },
  })
  if (!cylinder) throw new AppError('NOT_FOUND')
  const siteIds = sitesWhere(viewer, 'cylinder:read')
  const below = beforeSeq ?? cylinder.lastSeq + 1
  const [rows, seen] = await Promise.all([
    readPage(cylinderId, siteIds, below),
    db.cylinderEvent.count({
      where: { cylinderId, OR: [{ siteId: { in: siteIds } }, { toSiteId: { in: siteIds } }] },
    }),
  ])
  const shown = rows.slice(0, PAGE)
  return {
    events: shown,
    next: rows.length > PAGE ? (shown.at(-1)?.seq ?? null) : null,
    elsewhere: cylinder.lastSeq - seen,
  }
}

function readPage(
  cylinderId: string,
  siteIds: readonly string[],
  below: number,
): Promise<CylinderEventRow[]> {
  return db.$queryRaw<CylinderEventRow[]>`
    WITH page AS MATERIALIZED (
      SELECT * FROM cylinder_events
      WHERE cylinder_id = ${cylinderId}::uuid AND seq < ${below}
        AND (site_id = ANY (${[...siteIds]}::uuid[]) OR to_site_id = ANY (${[...siteIds]}::uuid[]))
      ORDER BY seq DESC
      LIMIT ${PAGE + 1}
    ), entries AS MATERIALIZED (
      -- An entry is written after its event: none before the page's oldest is of this page.
      SELECT DISTINCT ON (event_id) payload::jsonb -> 'row' ->> 'id' AS event_id, seq, hash
      FROM audit_entries
      WHERE subject_id = ${cylinderId} AND table_name = 'cylinder_events' AND chain = ANY (${[...siteIds]}::text[])
        AND at >= (SELECT min(recorded_at) FROM page)
      ORDER BY event_id, chain
    )
    SELECT e.id, e.seq, e.kind, e.at, e.recorded_at AS "recordedAt", e.device_at AS "deviceAt",
           coalesce(p.name, '') AS "personName", e.role_then AS "roleThen",
           coalesce(s.name, '') AS "siteName", t.name AS "toSiteName", o.number AS "outfitNumber", e.side,
           e.gauge_kpa AS "gaugeKpa", e.weight_kg AS "weightKg", e.temperature_k AS "temperatureK",
           e.contents_kg AS "contentsKg", e.contents_u_kg AS "contentsUKg", e.marked_empty AS "markedEmpty", e.reason,
           x.seq AS "correctsSeq", a.seq::int AS "entrySeq", left(a.hash, 6) AS "entryCode"
    FROM page e
    LEFT JOIN people p ON p.id = e.person_id
    LEFT JOIN sites s ON s.id = e.site_id
    LEFT JOIN sites t ON t.id = e.to_site_id
    LEFT JOIN outfits o ON o.id = e.outfit_id
    LEFT JOIN cylinder_events x ON x.id = e.corrects_id
    LEFT JOIN entries a ON a.event_id = e.id::text
    ORDER BY e.seq DESC`
}
