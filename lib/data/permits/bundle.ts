import 'server-only'
import { AppError } from '@/lib/errors'
import type { LocalRulesetRow } from '../rulesets-local'
import type { Tx } from '../tx'

/** JSON as PostgreSQL writes it: instants are text. */
type Instant = string

export interface PermitRow {
  id: string
  site_id: string
  area_id: string
  job_id: string
  cut_list_id: string | null
  outfit_id: string | null
  number: number
  process: string
  what: string
  where_words: string
  cold_answer: unknown
  host_permit: string | null
  entry_permit: string | null
  host_permit_until: Instant | null
  entry_permit_until: Instant | null
  lone_client: string | null
  isolation: unknown
  planned_from: Instant
  planned_until: Instant
  operator_id: string
  fire_watch_id: string | null
  prepared_by: string
  created_at: Instant
  stop_code: string
  state: string
  state_at: Instant
  survey_no: number
  cleared_at: Instant | null
  issued_at: Instant | null
  issued_by: string | null
  valid_until: Instant | null
  last_cut_by: Instant | null
  torch_out_at: Instant | null
  held_at: Instant | null
  hold_reason: string | null
  stop_pressed_at: Instant | null
  stopped_at: Instant | null
  expired_at: Instant | null
  watch_at: Instant | null
  closed_at: Instant | null
  withdrawn_at: Instant | null
  watch_required: boolean | null
  watch_minutes: number | null
  round_interval_min: number | null
  monitoring_minutes: number | null
  final_look_minutes: number | null
  statement_required: boolean | null
  gas_test_required: boolean | null
  gas_test_valid_min: number | null
  frozen: unknown
  last_event_seq: number
  version: number
}

export interface AnswerRow {
  survey_no: number
  item: string
  answer: unknown
  person_id: string
  at: Instant
}

export interface GasTestRow {
  oxygen_pct: number
  lel_pct: number
  co_ppm: number | null
  h2s_ppm: number | null
  oxygen_cause: string | null
  instrument: string
  bump_tested_on: string
  calibrated_until: string
  person_id: string
  at: Instant
}

export interface SignatureRow {
  act: string
  role: string
  person_id: string
  survey_no: number
  /** Of what the signer saw; null in signatures older than the hash. */
  content_hash: string | null
  at: Instant
}

export interface StintRow {
  role: string
  person_id: string
  from_at: Instant
  to_at: Instant | null
}

export interface EventRow {
  seq: number
  kind: string
  at: Instant
  person_id: string | null
  role_then: string
  subject_id: string | null
  data: unknown
}

export interface PersonRow {
  id: string
  name: string
  phone: string | null
  disabled_at: Instant | null
  roles: string[]
  qualifications: { kind: string; valid_from: string; valid_until: string }[]
}

/** Everything kept about one permit, as it stood at one moment of the database's clock. */
export interface PermitBundle {
  now: Instant
  permit: PermitRow
  /** Of what stands there now, as every signature is held to it. */
  content_hash: string
  site: {
    id: string
    name: string
    short_name: string
    zone: string
    emergency_words: string
    shift_ends: string
    /** Local clocks. */
    shift_starts: string[]
    lone_operator: boolean
    pai_may_watch: boolean
  }
  area: { id: string; name: string; area_class: string; facts: unknown; posts: unknown }
  job: { id: string; number: string; title: string }
  outfit: {
    id: string
    number: string
    site_id: string
    state: string
    state_reason: string | null
    fuel_gas_id: string
    /** When it was last looked at whole and found good. */
    checked_at: Instant | null
  } | null
  answers: AnswerRow[]
  /** The last drawing of the area; null while there is none. */
  drawing: { revision: number; drawing: unknown; person_id: string; at: Instant } | null
  gas_tests: GasTestRow[]
  signatures: SignatureRow[]
  stints: StintRow[]
  rounds: {
    person_id: string
    posts: unknown
    worst: string
    note: string | null
    due_at: Instant | null
    late_ms: number
    at: Instant
  }[]
  open_spans: { from_at: Instant; to_at: Instant | null }[]
  events: EventRow[]
  last_log: {
    cut_id: string | null
    pieces: number
    from_at: Instant
    to_at: Instant
    operator_id: string
  } | null
  people: PersonRow[]
  rulesets: { ruleset_id: string }[]
  /** Every edition, known by then, of the typed-in rulesets among them. */
  local_rulesets: LocalRulesetRow[]
  /** The client's person has signed on to what everyone is told; false where nobody is alone. */
  is_lone_briefed: boolean
  /** Of the site: the last word on a burn ban, and the last wind that was reported. */
  weather: { ban: { kind: string; at: Instant } | null; wind: { mph: number; at: Instant } | null }
  company_layer: { params: unknown; citation: string } | null
  company_layer_no: number
}

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i

/**
 * One permit with all that lib/permit asks about, in one query, so that every check and every
 * screen reads the same moment. Rows come oldest first.
 */
export async function loadBundle(tx: Tx, permitId: string): Promise<PermitBundle> {
  if (!UUID.test(permitId)) throw new AppError('NOT_FOUND') // an address that somebody typed
  const rows = await tx.$queryRaw<{ bundle: PermitBundle }[]>`
    WITH p AS (SELECT * FROM permits WHERE id = ${permitId}::uuid),
    -- The rules of the day it was issued; of today while it is not.
    judged AS (SELECT coalesce(p.issued_at, kerf_now()) AS at FROM p),
    involved AS (
      SELECT operator_id AS id FROM p UNION SELECT fire_watch_id FROM p UNION SELECT issued_by FROM p
      UNION SELECT prepared_by FROM p
      UNION SELECT s.person_id FROM stints s JOIN p ON s.permit_id = p.id
      UNION SELECT s.person_id FROM signatures s JOIN p ON s.permit_id = p.id
      UNION SELECT d.person_id FROM area_drawings d JOIN p ON d.permit_id = p.id
      UNION SELECT a.person_id FROM clearance_answers a JOIN p ON a.permit_id = p.id
      UNION SELECT e.person_id FROM permit_events e JOIN p ON e.permit_id = p.id
    )
    SELECT jsonb_build_object(
      'now', kerf_now(),
      'permit', to_jsonb(p),
      'content_hash', kerf_permit_hash(p.id),
      'site', (SELECT to_jsonb(s) FROM (SELECT id, name, short_name, zone, emergency_words, shift_ends, shift_starts, lone_operator, pai_may_watch FROM sites WHERE id = p.site_id) s),
      'area', (SELECT to_jsonb(a) FROM (SELECT id, name, area_class, facts, posts FROM areas WHERE id = p.area_id) a),
      'job', (SELECT to_jsonb(j) FROM (SELECT id, number, title FROM jobs WHERE id = p.job_id) j),
      'outfit', (SELECT to_jsonb(o) FROM (SELECT id, number, site_id, state, state_reason, fuel_gas_id,
                   (SELECT max(e.at) FROM outfit_events e WHERE e.outfit_id = outfits.id AND e.kind = 'inspected' AND kerf_check_verdict(e) = 'passed') AS checked_at
                 FROM outfits WHERE id = p.outfit_id) o),
      'answers', coalesce((SELECT jsonb_agg(to_jsonb(x) ORDER BY x.at, x.id) FROM clearance_answers x WHERE x.permit_id = p.id), '[]'),
      'drawing', (SELECT jsonb_build_object('revision', d.revision, 'drawing', d.drawing, 'person_id', d.person_id, 'at', d.at) FROM area_drawings d WHERE d.permit_id = p.id ORDER BY d.revision DESC LIMIT 1),
      'gas_tests', coalesce((SELECT jsonb_agg(to_jsonb(x) ORDER BY x.at, x.id) FROM gas_tests x WHERE x.permit_id = p.id), '[]'),
      'signatures', coalesce((SELECT jsonb_agg(to_jsonb(x) ORDER BY x.at, x.id) FROM signatures x WHERE x.permit_id = p.id), '[]'),
      'stints', coalesce((SELECT jsonb_agg(to_jsonb(x) ORDER BY x.from_at, x.id) FROM stints x WHERE x.permit_id = p.id), '[]'),
      'rounds', coalesce((SELECT jsonb_agg(to_jsonb(x) ORDER BY x.at, x.id) FROM rounds x WHERE x.permit_id = p.id), '[]'),
      'open_spans', coalesce((SELECT jsonb_agg(to_jsonb(x) ORDER BY x.from_at) FROM permit_open_spans x WHERE x.permit_id = p.id), '[]'),
      'events', coalesce((SELECT jsonb_agg(to_jsonb(x) ORDER BY x.seq) FROM permit_events x WHERE x.permit_id = p.id), '[]'),
      'last_log', (SELECT to_jsonb(x) FROM hot_work_logs x WHERE x.permit_id = p.id ORDER BY x.to_at DESC, x.id DESC LIMIT 1),
      'people', coalesce((
        SELECT jsonb_agg(jsonb_build_object(
          'id', q.id, 'name', q.name, 'phone', q.phone, 'disabled_at', q.disabled_at,
          'roles', coalesce((SELECT jsonb_agg(DISTINCT g.role) FROM grants g
                             WHERE g.person_id = q.id AND g.site_id = p.site_id AND g.revoked_at IS NULL), '[]'),
          'qualifications', coalesce((SELECT jsonb_agg(to_jsonb(k)) FROM qualifications k WHERE k.person_id = q.id), '[]')))
        FROM people q WHERE q.id IN (SELECT id FROM involved)), '[]'),
      'rulesets', coalesce((SELECT jsonb_agg(to_jsonb(r) ORDER BY r.from_at) FROM site_rulesets r, judged
                            WHERE r.site_id = p.site_id AND r.from_at <= judged.at
                              AND (r.to_at IS NULL OR r.to_at > judged.at)), '[]'),
      'local_rulesets', coalesce((SELECT jsonb_agg(to_jsonb(l) ORDER BY l.version) FROM local_rulesets l, judged
                            WHERE l.added_at <= judged.at AND EXISTS (
                              SELECT 1 FROM site_rulesets r WHERE r.site_id = p.site_id AND r.ruleset_id = l.ruleset_id)), '[]'),
      'is_lone_briefed', p.lone_client IS NOT NULL AND EXISTS (SELECT 1 FROM sign_ons s WHERE s.permit_id = p.id AND s.person_id = p.fire_watch_id AND s.brief_hash = kerf_brief_hash(p.id)),
      'weather', jsonb_build_object(
        'ban', (SELECT jsonb_build_object('kind', w.kind, 'at', w.at) FROM weather_reports w WHERE w.site_id = p.site_id AND w.kind IN ('burn_ban', 'ban_lifted') ORDER BY w.at DESC, w.id DESC LIMIT 1),
        'wind', (SELECT jsonb_build_object('mph', w.wind_mph, 'at', w.at) FROM weather_reports w WHERE w.site_id = p.site_id AND w.kind = 'wind' ORDER BY w.at DESC, w.id DESC LIMIT 1)),
      'company_layer', (SELECT to_jsonb(c) FROM company_layers c, judged WHERE c.from_at <= judged.at ORDER BY c.from_at DESC, c.id DESC LIMIT 1),
      'company_layer_no', (SELECT count(*) FROM company_layers c, judged WHERE c.from_at <= judged.at)
    ) AS bundle
    FROM p`
  const bundle = rows[0]?.bundle
  if (!bundle) throw new AppError('NOT_FOUND')
  return bundle
}
