import 'server-only'
import { z } from 'zod'
import { type Role, roleCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { db } from '../client'

export type FeedDay = Readonly<{
  id: string
  day: string
  kind: 'delivery' | 'test'
  siteName: string
  /** The supplier, or the cylinder's serial. */
  what: string
  lines: readonly Readonly<{ quantity: number; sizeName: string }>[]
}>

/** What signs a person's feed. */
export async function feedOwnerOf(personId: string) {
  if (!z.uuid().safeParse(personId).success) return null
  const [row] = await db.$queryRaw<{ epoch: number }[]>`
    SELECT session_epoch AS epoch FROM people WHERE id = ${personId}::uuid AND disabled_at IS NULL`
  return row ? { personId, sessionEpoch: row.epoch } : null
}

/** The same for who is signed in, for whom the address is shown. */
export const ownFeed = (viewer: Viewer) => feedOwnerOf(viewer.personId)

/**
 * Deliveries that are due, and cylinders whose test falls due, at the sites of a person whose feed has been
 * proved to be theirs.
 */
export async function listFeedDays(personId: string): Promise<{ now: Date; days: FeedDay[] }> {
  const grants = await db.$queryRaw<{ site_id: string; role: Role }[]>`
    SELECT site_id, role FROM grants WHERE person_id = ${personId}::uuid AND revoked_at IS NULL`
  const siteIds = grants
    .filter((grant) => roleCan(grant.role, 'order:read'))
    .map((grant) => grant.site_id)
  const [deliveries, tests, [clock]] = await Promise.all([
    db.$queryRaw<FeedDay[]>`
      SELECT o.id, to_char(o.due_on, 'YYYY-MM-DD') AS day, 'delivery' AS kind, s.short_name AS "siteName", u.name AS what,
             (SELECT coalesce(jsonb_agg(jsonb_build_object('quantity', l.quantity, 'sizeName', z.name) ORDER BY z.id), '[]')
              FROM order_lines l JOIN cylinder_sizes z ON z.id = l.size_id WHERE l.order_id = o.id) AS lines
      FROM orders o JOIN sites s ON s.id = o.site_id JOIN suppliers u ON u.id = o.supplier_id
      WHERE o.site_id = ANY(${siteIds}::uuid[]) AND o.state = 'confirmed' ORDER BY o.due_on, o.id LIMIT 400`,
    db.$queryRaw<FeedDay[]>`
      SELECT c.id, to_char(c.due_month, 'YYYY-MM-DD') AS day, 'test' AS kind, s.short_name AS "siteName", c.serial AS what, '[]'::jsonb AS lines
      FROM cylinders c JOIN sites s ON s.id = c.site_id
      WHERE c.site_id = ANY(${siteIds}::uuid[]) AND c.due_month IS NOT NULL
        AND c.due_month BETWEEN kerf_now()::date - 31 AND kerf_now()::date + 120
      ORDER BY c.due_month, c.id LIMIT 400`,
    db.$queryRaw<{ now: Date }[]>`SELECT kerf_now() AS now`,
  ])
  return { now: clock?.now ?? new Date(0), days: [...deliveries, ...tests] }
}
