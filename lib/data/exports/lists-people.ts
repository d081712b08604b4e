import { Prisma } from '../generated/client'
import { at, day, list } from './list-sql'

/** Somebody is of every site where they hold a role: a row for each role, but one for each card. */
export const PEOPLE_LISTS = {
  people: list(
    'people:read',
    'site name firm role since disabled_at',
    Prisma.sql`s.short_name, p.name, p.firm, x.role, ${at('x.granted_at')}, ${at('p.disabled_at')}`,
    Prisma.sql`(SELECT * FROM grants WHERE revoked_at IS NULL) x JOIN people p ON p.id = x.person_id`,
  ),
  qualifications: list(
    'people:read',
    'site name firm kind issuer valid_from valid_until evidence files recorded_at',
    Prisma.sql`s.short_name, p.name, p.firm, x.kind, x.issuer, ${day('x.valid_from')}, ${day('x.valid_until')}, x.evidence,
      (SELECT count(*) FROM evidence_files f WHERE f.qualification_id = x.id), ${at('x.recorded_at')}`,
    (siteIds) => Prisma.sql`qualifications x JOIN people p ON p.id = x.person_id JOIN LATERAL (
      SELECT g.site_id FROM grants g WHERE g.person_id = x.person_id AND g.revoked_at IS NULL AND g.site_id = ANY (${[...siteIds]}::uuid[])
      ORDER BY g.granted_at, g.id LIMIT 1) h ON true`,
    Prisma.raw('h.site_id'),
  ),
  assignments: list(
    'people:read',
    'site day name firm assigned_by assigned_at cancelled_at',
    Prisma.sql`s.short_name, ${day('x.day')}, p.name, p.firm, b.name, ${at('x.assigned_at')}, ${at('x.cancelled_at')}`,
    Prisma.sql`assignments x JOIN people p ON p.id = x.person_id LEFT JOIN people b ON b.id = x.assigned_by`,
  ),
  visitors: list(
    'people:read',
    'site name firm host purpose told_at left_at',
    Prisma.sql`s.short_name, x.name, x.firm, h.name, x.purpose, ${at('x.told_at')}, ${at('x.left_at')}`,
    Prisma.sql`visitors x JOIN people h ON h.id = x.host_id`,
  ),
  crews: list(
    'people:read',
    'site crew name firm from until',
    Prisma.sql`s.short_name, c.name, p.name, p.firm, ${day('x.from_date')}, ${day('x.to_date')}`,
    Prisma.sql`crew_members x JOIN crews c ON c.id = x.crew_id JOIN people p ON p.id = x.person_id`,
    Prisma.raw('c.site_id'),
  ),
} as const
