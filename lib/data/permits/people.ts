import 'server-only'
import { can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { db } from '../client'
import type { Tx } from '../tx'

export type SiteHand = Readonly<{
  id: string
  name: string
  roles: readonly string[]
  /** Kinds that hold on the day asked about. */
  qualifiedAs: readonly string[]
}>

interface HandRow {
  id: string
  name: string
  roles: string[]
  qualified_as: string[]
}

/** More than anybody chooses from; a site with more is searched by who was named, never by this list. */
const MOST_LISTED = 200

/** Who may be named on a permit at a site: people with a grant there, and what they are qualified as that day. */
export function listSiteHands(siteId: string, day: string, client: Tx = db): Promise<SiteHand[]> {
  return readHands(client, { siteId, day, ids: null })
}

/** Of these people, who may be named there that day; however many the site has. */
export function findSiteHands(
  tx: Tx,
  wanted: Readonly<{ siteId: string; day: string; ids: readonly (string | null)[] }>,
): Promise<SiteHand[]> {
  return readHands(tx, { ...wanted, ids: wanted.ids.filter((id) => id !== null) })
}

type Wanted = Readonly<{ siteId: string; day: string; ids: readonly string[] | null }>

async function readHands(client: Tx, { siteId, day, ids }: Wanted): Promise<SiteHand[]> {
  const rows = await client.$queryRaw<HandRow[]>`
    SELECT p.id, p.name, array_agg(DISTINCT g.role) AS roles,
           coalesce(array_agg(DISTINCT q.kind) FILTER (WHERE q.kind IS NOT NULL), '{}') AS qualified_as
    FROM people p
    JOIN grants g ON g.person_id = p.id AND g.site_id = ${siteId}::uuid AND g.revoked_at IS NULL
    LEFT JOIN qualifications q ON q.person_id = p.id AND ${day}::date BETWEEN q.valid_from AND q.valid_until
    WHERE p.disabled_at IS NULL AND g.role IN ('foreman', 'operator', 'fire_watch', 'pai')
      AND (${ids === null} OR p.id = ANY(${ids ?? []}::uuid[]))
    GROUP BY p.id, p.name
    ORDER BY p.name, p.id
    LIMIT ${MOST_LISTED}`
  return rows.map((row) => ({
    id: row.id,
    name: row.name,
    roles: row.roles,
    qualifiedAs: row.qualified_as,
  }))
}

/** The same for somebody who looks at a permit of that site. */
export async function listPermitHands(
  viewer: Viewer,
  siteId: string,
  day: string,
): Promise<SiteHand[]> {
  if (!can(viewer, 'permit:read', siteId)) throw new AppError('NOT_FOUND')
  return listSiteHands(siteId, day)
}
