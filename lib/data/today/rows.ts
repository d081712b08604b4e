import 'server-only'
import { db } from '../client'

interface StintRow {
  name: string
  from_at: string
  to_at: string | null
  role: string
}

export interface PermitToday {
  id: string
  number: number
  job_number: string
  state: string
  area: string
  what: string
  outfit_id: string | null
  operator: string
  operator_id: string
  fire_watch_id: string | null
  fire_watch: string | null
  planned_from: string
  issued_at: string | null
  valid_until: string | null
  last_cut_by: string | null
  torch_out_at: string | null
  stop_pressed_at: string | null
  stopped_at: string | null
  watch_minutes: number | null
  round_interval_min: number | null
  monitoring_minutes: number | null
  answered: number
  gas_tests: number
  facts: unknown
  process: string
  signed: string[]
  needs_entry: boolean
  may_enter: boolean
  stints: StintRow[]
  rounds: { at: string }[]
  is_mine_on: boolean
}

export interface NoticeToday {
  id: string
  kind: string
  at: string
  permit_id: string | null
  permit_number: string | null
  area: string | null
  words: string | null
}

export interface TodayRows {
  now: string
  permits: PermitToday[]
  notices: NoticeToday[]
}

const MOST_PERMITS = 60
const MOST_NOTICES = 12
/** Later it is in the record, and no longer news. */
const NOTICE_DAYS = 3

/** What lives at a site and what waits on a person there, in one query. */
export async function readTodayRows(siteId: string, personId: string): Promise<TodayRows> {
  const rows = await db.$queryRaw<{ today: TodayRows }[]>`
    WITH living AS (
      SELECT p.*, j.number AS job_number, a.name AS area, a.facts AS area_facts FROM permits p JOIN jobs j ON j.id = p.job_id JOIN areas a ON a.id = p.area_id
      WHERE p.site_id = ${siteId}::uuid AND p.state IN ('preparing', 'cleared', 'open', 'held', 'watch')
      ORDER BY (p.state IN ('open', 'held', 'watch')) DESC, p.state_at DESC LIMIT ${MOST_PERMITS}),
    told AS (
      SELECT n.* FROM notices n WHERE n.person_id = ${personId}::uuid AND n.site_id = ${siteId}::uuid AND n.seen_at IS NULL
        AND n.at > kerf_now() - make_interval(days => ${NOTICE_DAYS})
      ORDER BY n.at DESC, n.id LIMIT ${MOST_NOTICES})
    SELECT jsonb_build_object(
      'now', kerf_now(),
      'permits', coalesce((SELECT jsonb_agg(jsonb_build_object(
        'id', p.id, 'number', p.number, 'job_number', p.job_number, 'state', p.state, 'area', p.area, 'what', p.what, 'outfit_id', p.outfit_id,
        'operator_id', p.operator_id, 'operator', coalesce((SELECT q.name FROM stints s JOIN people q ON q.id = s.person_id WHERE s.permit_id = p.id AND s.role = 'operator' AND s.to_at IS NULL LIMIT 1), (SELECT name FROM people WHERE id = p.operator_id)),
        'fire_watch_id', p.fire_watch_id, 'fire_watch', (SELECT name FROM people WHERE id = p.fire_watch_id),
        'planned_from', p.planned_from, 'issued_at', p.issued_at, 'valid_until', p.valid_until, 'last_cut_by', p.last_cut_by,
        'torch_out_at', p.torch_out_at, 'stop_pressed_at', p.stop_pressed_at, 'stopped_at', p.stopped_at,
        'watch_minutes', (SELECT kerf_watch_owed(x) FROM permits x WHERE x.id = p.id), 'round_interval_min', p.round_interval_min, 'monitoring_minutes', p.monitoring_minutes,
        'facts', p.area_facts, 'process', p.process,
        'answered', (SELECT count(DISTINCT c.item) FROM clearance_answers c WHERE c.permit_id = p.id AND c.survey_no = p.survey_no),
        'gas_tests', (SELECT count(*) FROM gas_tests t WHERE t.permit_id = p.id),
        'signed', coalesce((SELECT jsonb_agg(DISTINCT s.act) FROM signatures s WHERE s.permit_id = p.id AND s.survey_no = p.survey_no), '[]'),
        'needs_entry', p.entry_permit IS NOT NULL,
        'may_enter', p.entry_permit IS NOT NULL AND EXISTS (SELECT 1 FROM qualifications q JOIN sites s ON s.id = p.site_id
          WHERE q.person_id = ${personId}::uuid AND q.kind = 'entry_supervisor' AND (kerf_now() AT TIME ZONE s.zone)::date BETWEEN q.valid_from AND q.valid_until),
        'stints', coalesce((SELECT jsonb_agg(jsonb_build_object('name', q.name, 'from_at', s.from_at, 'to_at', s.to_at, 'role', s.role) ORDER BY s.from_at, s.id)
                            FROM stints s JOIN people q ON q.id = s.person_id WHERE s.permit_id = p.id AND s.role = 'fire_watch' AND p.state IN ('held', 'watch')), '[]'),
        'rounds', coalesce((SELECT jsonb_agg(jsonb_build_object('at', r.at) ORDER BY r.at, r.id) FROM rounds r WHERE r.permit_id = p.id AND r.at >= p.torch_out_at AND NOT r.posts @> '[{"scanned": false}]'), '[]'),
        'is_mine_on', EXISTS (SELECT 1 FROM stints s WHERE s.permit_id = p.id AND s.role = 'fire_watch' AND s.to_at IS NULL AND s.person_id = ${personId}::uuid)
      )) FROM living p), '[]'),
      'notices', coalesce((SELECT jsonb_agg(jsonb_build_object(
        'id', n.id, 'kind', n.kind, 'at', n.at, 'permit_id', coalesce(p.id, w.permit_id), 'permit_number', coalesce(j.number || '-' || p.number, n.data ->> 'until'), 'area', coalesce(a.name, wa.name, n.data ->> 'kind'), 'words', coalesce(w.what, n.data ->> 'name')) ORDER BY n.at DESC, n.id)
        FROM told n LEFT JOIN permits p ON p.id = n.subject_id LEFT JOIN jobs j ON j.id = p.job_id LEFT JOIN areas a ON a.id = p.area_id
        LEFT JOIN work_outside_permit w ON w.id = n.subject_id LEFT JOIN areas wa ON wa.id = w.area_id), '[]')
    ) AS today`
  const today = rows[0]?.today
  if (!today) throw new Error('no answer to what is today')
  return today
}
