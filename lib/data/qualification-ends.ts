import 'server-only'
import { END_STAGES } from '@/lib/permit/people-today'
import type { Tx } from './tx'

/**
 * Tells the holder, and the foremen, managers and administrators of their sites, of a qualification
 * that ends in 60, 30 and 7 days: each once, and none that a later one takes over from.
 */
export async function tellOfEnds(tx: Tx): Promise<void> {
  await tx.$executeRaw`
    WITH ends AS (
      SELECT q.person_id, q.kind, max(q.valid_until) AS until FROM qualifications q GROUP BY q.person_id, q.kind),
    due AS (
      SELECT e.*, g.site_id, min(stage) AS stage
      FROM ends e JOIN people p ON p.id = e.person_id AND p.disabled_at IS NULL
        JOIN (SELECT DISTINCT person_id, site_id FROM grants WHERE revoked_at IS NULL) AS g ON g.person_id = p.id,
        unnest(${[...END_STAGES]}::int[]) AS stage
      WHERE e.until - kerf_site_day(g.site_id, kerf_now()) BETWEEN 0 AND stage
      GROUP BY e.person_id, e.kind, e.until, g.site_id)
    INSERT INTO notices (id, site_id, person_id, kind, subject_id, data, dedupe)
    SELECT gen_random_uuid(), d.site_id, who.person_id, 'qualification_ends', d.person_id,
           jsonb_build_object('name', h.name, 'kind', d.kind, 'until', to_char(d.until, 'YYYY-MM-DD'), 'stage', d.stage),
           concat_ws(':', 'ends', d.person_id, d.kind, d.until, d.stage, d.site_id, who.person_id)
    FROM due d JOIN people h ON h.id = d.person_id, LATERAL (
      SELECT d.person_id UNION
      SELECT g.person_id FROM grants g JOIN people r ON r.id = g.person_id AND r.disabled_at IS NULL
      WHERE g.site_id = d.site_id AND g.revoked_at IS NULL AND g.role IN ('foreman', 'shop_manager', 'administrator')) AS who
    ON CONFLICT (dedupe) DO NOTHING`
}
