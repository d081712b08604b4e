import 'server-only'
import { z } from 'zod'
import { type Role, roleCan } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { db } from '../client'
import { type DueDay, extinguisherDue, outfitDue } from './calendar-due'

export type FeedDay = Readonly<{
  id: string
  day: string
  kind: 'delivery' | 'test' | 'outfit' | 'extinguisher' | 'qualification' | 'instrument'
  siteName: string
  /** The supplier, the cylinder's serial, the outfit's or extinguisher's number, the person, the instrument. */
  what: string
  /** Which check or qualification, by its code; null for a delivery or a cylinder. */
  check: string | null
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
 * Deliveries that are due, and what falls due of cylinders, outfits, extinguishers, instruments and qualifications,
 * at the sites of a person whose feed has been
 * proved to be theirs.
 */
export async function listFeedDays(personId: string): Promise<{ now: Date; days: FeedDay[] }> {
  const grants = await db.$queryRaw<{ site_id: string; role: Role }[]>`
    SELECT site_id, role FROM grants WHERE person_id = ${personId}::uuid AND revoked_at IS NULL`
  const siteIds = grants
    .filter((grant) => roleCan(grant.role, 'order:read'))
    .map((grant) => grant.site_id)
  const [deliveries, tests, ends, instruments, outfits, extinguishers, [clock]] = await Promise.all(
    [
      db.$queryRaw<FeedDay[]>`
      SELECT o.id, to_char(o.due_on, 'YYYY-MM-DD') AS day, 'delivery' AS kind, s.short_name AS "siteName", u.name AS what, NULL AS check,
             (SELECT coalesce(jsonb_agg(jsonb_build_object('quantity', l.quantity, 'sizeName', z.name) ORDER BY z.id), '[]')
              FROM order_lines l JOIN cylinder_sizes z ON z.id = l.size_id WHERE l.order_id = o.id) AS lines
      FROM orders o JOIN sites s ON s.id = o.site_id JOIN suppliers u ON u.id = o.supplier_id
      WHERE o.site_id = ANY(${siteIds}::uuid[]) AND o.state = 'confirmed' ORDER BY o.due_on, o.id LIMIT 400`,
      db.$queryRaw<FeedDay[]>`
      SELECT c.id, to_char(c.due_month, 'YYYY-MM-DD') AS day, 'test' AS kind, s.short_name AS "siteName", c.serial AS what, NULL AS check, '[]'::jsonb AS lines
      FROM cylinders c JOIN sites s ON s.id = c.site_id
      WHERE c.site_id = ANY(${siteIds}::uuid[]) AND c.due_month IS NOT NULL
        AND c.due_month BETWEEN kerf_now()::date - 31 AND kerf_now()::date + 120
      ORDER BY c.due_month, c.id LIMIT 400`,
      db.$queryRaw<FeedDay[]>`
      SELECT q.id, to_char(q.valid_until, 'YYYY-MM-DD') AS day, 'qualification' AS kind, min(s.short_name) AS "siteName", p.name AS what, q.kind AS check, '[]'::jsonb AS lines
      FROM qualifications q JOIN people p ON p.id = q.person_id AND p.disabled_at IS NULL
      JOIN grants g ON g.person_id = p.id AND g.revoked_at IS NULL AND g.site_id = ANY(${siteIds}::uuid[]) JOIN sites s ON s.id = g.site_id
      WHERE q.valid_until BETWEEN kerf_now()::date - 31 AND kerf_now()::date + 120
        AND NOT EXISTS (SELECT 1 FROM qualifications l WHERE l.person_id = q.person_id AND l.kind = q.kind AND l.valid_until > q.valid_until)
      GROUP BY q.id, p.name ORDER BY q.valid_until, q.id LIMIT 400`,
      db.$queryRaw<FeedDay[]>`
      SELECT DISTINCT ON (i.id, c.kind) c.id, to_char(c.valid_until, 'YYYY-MM-DD') AS day, 'instrument' AS kind, s.short_name AS "siteName", i.name AS what, c.kind AS check, '[]'::jsonb AS lines
      FROM gas_instruments i JOIN sites s ON s.id = i.site_id JOIN instrument_checks c ON c.instrument_id = i.id AND c.passed AND c.kind = 'calibration'
      WHERE i.site_id = ANY(${siteIds}::uuid[]) AND c.valid_until IS NOT NULL
      ORDER BY i.id, c.kind, c.at DESC LIMIT 200`,
      outfitDue(siteIds),
      extinguisherDue(siteIds),
      db.$queryRaw<{ now: Date }[]>`SELECT kerf_now() AS now`,
    ],
  )
  const ofKind = (kind: FeedDay['kind'], due: readonly DueDay[]) =>
    due.map((one): FeedDay => ({ ...one, kind, lines: [] }))
  return {
    now: clock?.now ?? new Date(0),
    days: [
      ...deliveries,
      ...tests,
      ...ends,
      ...instruments,
      ...ofKind('outfit', outfits),
      ...ofKind('extinguisher', extinguishers),
    ],
  }
}
