import 'server-only'
import { z } from 'zod'
import type { Params, Reason } from '@/lib/errors'
import { db } from '../client'
import { readRoundPosts } from '../permits/frozen'

/** One entry of the record as it stands in the site's chain. `seq` null: an attempt that was refused. */
export type RecordEntry = Readonly<{
  seq: number | null
  at: Date
  /** What the device's clock said; null where it said nothing. */
  deviceAt: Date | null
  who: string | null
  role: string
  /** A key of the words: event_issued, signature_agree, round, log … */
  what: string
  params: Params
  /** The first six of the entry's hash. */
  code: string | null
  isTrouble: boolean
  reasons: readonly Reason[]
  corrects: boolean
  isLate: boolean
}>

const PAGE = 60

interface StoredEntry {
  seq: bigint
  at: Date
  actor_id: string | null
  actor_role: string
  table_name: string
  row: unknown
  code: string
}

const text = z.string().nullish()
const rowSchema = z.looseObject({
  id: z.string(),
  at: text,
  recorded_at: text,
  device_at: text,
  person_id: text,
  role_then: text,
  role: text,
  kind: text,
  act: text,
  item: text,
  subject_id: text,
  worst: text,
  what: text,
  due_at: text,
  late_ms: z.number().nullish(),
  late: z.boolean().nullish(),
  from_at: text,
  to_at: text,
  pieces: z.number().nullish(),
  cut_id: text,
  corrects_id: text,
  note: text,
  oxygen_pct: z.number().nullish(),
  lel_pct: z.number().nullish(),
  co_ppm: z.number().nullish(),
  h2s_ppm: z.number().nullish(),
  answer: z.looseObject({ choice: z.string(), what: text }).nullish(),
  data: z.record(z.string(), z.unknown()).nullish(),
  posts: z.unknown().optional(),
  drawing: z.looseObject({ sheets: z.array(z.unknown()), marks: z.array(z.unknown()) }).nullish(),
  purpose: text,
  why: text,
  visitor_name: text,
  firm: text,
  written_at: text,
  written_by: text,
  words: text,
  about: text,
  sha256: text,
  byte_count: z.number().nullish(),
})
type Row = z.infer<typeof rowSchema>

/** What stands twice in the record (a round and its event, a signature and what it did) is shown once. */
const SHOWN_BY_ANOTHER = ['clearance_answers', 'permits']
const SIGNATURES_WITH_EVENT = ['issue', 'resume', 'go_back', 'final_pai']

export type EntriesWanted = Readonly<{
  siteId: string
  permitId: string
  jobId: string
  isAll: boolean
  after: number
}>

/** Entries of one permit in the order of their numbers, a page at a time. */
export async function readStored({
  siteId,
  permitId,
  jobId,
  isAll,
  after,
}: EntriesWanted): Promise<StoredEntry[]> {
  return db.$queryRaw<StoredEntry[]>`
    WITH mine AS (
      SELECT seq, at, actor_id, actor_role, table_name, payload::jsonb -> 'row' AS row, hash FROM audit_entries
      WHERE subject_id = ${permitId} AND chain = ${siteId}
      UNION ALL
      SELECT seq, at, actor_id, actor_role, table_name, payload::jsonb -> 'row', hash FROM audit_entries
      WHERE subject_id = ${jobId} AND chain = ${siteId} AND table_name = 'hot_work_logs' AND payload::jsonb #>> '{row,permit_id}' = ${permitId}
      UNION ALL
      SELECT e.seq, e.at, e.actor_id, e.actor_role, e.table_name, e.payload::jsonb -> 'row', e.hash
      FROM work_outside_permit w JOIN audit_entries e ON e.subject_id = w.id::text AND e.chain = ${siteId}
      WHERE w.permit_id = ${permitId}::uuid)
    SELECT seq, at, actor_id, actor_role, table_name, row, left(hash, 6) AS code FROM mine
    WHERE seq > ${after} AND (${isAll} OR (
      table_name <> ALL (${SHOWN_BY_ANOTHER})
      AND NOT (table_name = 'permit_events' AND row ->> 'kind' = 'round')
      AND NOT (table_name = 'signatures' AND row ->> 'act' = ANY (${SIGNATURES_WITH_EVENT}))))
    ORDER BY seq LIMIT ${PAGE + 1}`
}

export const PAGE_OF_ENTRIES = PAGE

function whatOf(table: string, row: Row): string {
  switch (table) {
    case 'permit_events':
      return `event_${row.kind ?? 'note'}`
    case 'signatures':
      return `signature_${row.act ?? ''}`
    case 'hot_work_logs':
      return row.corrects_id ? 'log_correction' : 'log'
    default:
      return table
  }
}

const plain = (value: unknown): string =>
  typeof value === 'string' || typeof value === 'number' ? String(value) : ''
const instant = (value: string | null | undefined) => (value ? Date.parse(value) : 0)

function countsOf(posts: unknown): Params {
  const visits = readRoundPosts(posts)
  const count = (wanted: string) => visits.filter(({ answer }) => answer === wanted).length
  const unscanned = visits
    .filter(({ scanned }) => scanned === false)
    .map(({ name, unscanned: why }) => (why ? `${name} (${why})` : name))
  return {
    clear: count('clear'),
    warm: count('warm'),
    smoke: count('smoke'),
    unscanned: unscanned.join(', '),
    isProven: unscanned.length === 0 ? 'yes' : 'no',
  }
}

/** The figures that the words of an entry need; instants as milliseconds. */
function paramsOf(table: string, row: Row): Params {
  const data = row.data ?? {}
  if (table === 'rounds')
    return { ...countsOf(row.posts), lateMs: row.late_ms ?? 0, dueAt: instant(row.due_at) }
  if (table === 'hot_work_logs')
    return {
      pieces: row.pieces ?? 0,
      fromAt: instant(row.from_at),
      toAt: instant(row.to_at),
      note: row.note ?? '',
    }
  if (table === 'work_outside_permit')
    return { fromAt: instant(row.from_at), toAt: instant(row.to_at), note: row.what ?? '' }
  if (table === 'gas_tests')
    return {
      oxygen: row.oxygen_pct ?? 0,
      lel: row.lel_pct ?? 0,
      co: row.co_ppm ?? -1,
      h2s: row.h2s_ppm ?? -1,
    }
  if (table === 'area_drawings')
    return { sheets: row.drawing?.sheets.length ?? 0, marks: row.drawing?.marks.length ?? 0 }
  if (table === 'sign_ons') return { note: [row.visitor_name, row.firm].filter(Boolean).join(', ') }
  if (table === 'paper_entries')
    return {
      kind: row.kind ?? 'other',
      writtenAt: instant(row.written_at),
      by: row.written_by ?? '',
      note: row.words ?? '',
    }
  if (table === 'permit_people') return { note: row.why ?? '' }
  if (table === 'pictures')
    return {
      purpose: row.purpose ?? '',
      kb: Math.ceil((row.byte_count ?? 0) / 1000),
      hash: row.sha256?.slice(0, 12) ?? '',
      note: row.note ?? '',
    }
  if (table === 'clearance_answers')
    return { item: row.item ?? '', choice: row.answer?.choice ?? '', note: row.answer?.what ?? '' }
  return {
    reason: plain(data.reason),
    note: plain(data.found ?? data.statement ?? data.what ?? data.text),
    because: plain(data.because),
    tookS: data.isTooFast === true && typeof data.tookS === 'number' ? data.tookS : -1,
    leastS: typeof data.leastS === 'number' ? data.leastS : 0,
    owedMin: typeof data.owedMin === 'number' ? data.owedMin : -1,
    stop: data.stop === true ? 'yes' : 'no',
    validAt: typeof data.validUntil === 'string' ? Date.parse(data.validUntil) : 0,
    impairment: plain(data.impairmentId),
  }
}

const TROUBLE = new Set([
  'event_stopped',
  'event_expired',
  'event_watch_restarted',
  'work_outside_permit',
  'log_correction',
])

function isTrouble(what: string, row: Row): boolean {
  return (
    TROUBLE.has(what) ||
    (row.late_ms ?? 0) >= 1000 ||
    row.worst === 'smoke' ||
    row.late === true ||
    row.data?.isTooFast === true ||
    row.data?.stop === true
  )
}

type Names = ReadonlyMap<string, string>

export function toEntry(stored: StoredEntry, names: Names): RecordEntry {
  const row = rowSchema.parse(stored.row)
  const what = whatOf(stored.table_name, row)
  const personId = row.person_id ?? stored.actor_id
  const subject = row.subject_id ? names.get(row.subject_id) : undefined
  return {
    seq: Number(stored.seq),
    at: stored.at,
    deviceAt: row.device_at ? new Date(row.device_at) : null,
    who: personId ? (names.get(personId) ?? null) : null,
    role: row.role_then ?? row.role ?? stored.actor_role,
    what,
    params: { ...paramsOf(stored.table_name, row), subject: subject ?? '' },
    code: stored.code,
    isTrouble: isTrouble(what, row),
    reasons: [],
    corrects: row.corrects_id !== null && row.corrects_id !== undefined,
    isLate: row.late === true,
  }
}

/** Everybody whom the rows name, for their names. */
export function peopleIn(stored: readonly StoredEntry[]): string[] {
  const ids = stored.flatMap(({ actor_id, row }) => {
    const { person_id, subject_id } = rowSchema.parse(row)
    return [actor_id, person_id, subject_id]
  })
  return [...new Set(ids.filter((id): id is string => typeof id === 'string'))]
}

const reasonsSchema = z.array(
  z.object({
    code: z.string(),
    params: z.record(z.string(), z.union([z.string(), z.number()])).optional(),
    ruleId: z.string().optional(),
  }),
)

/** Attempts that were refused: no entry of the chain, since nothing came of them, but kept. */
export async function readRefused(
  permitId: string,
  from: Date | null,
  until: Date | null,
): Promise<RecordEntry[]> {
  const rows = await db.$queryRaw<
    { at: Date; action: string; reasons: unknown; name: string | null }[]
  >`
    SELECT r.at, r.action, r.reasons, q.name FROM refused_attempts r LEFT JOIN people q ON q.id = r.person_id
    WHERE r.subject_id = ${permitId} AND r.at >= coalesce(${from}, r.at) AND r.at < coalesce(${until}, 'infinity'::timestamptz)
    ORDER BY r.at LIMIT ${PAGE}`
  return rows.map((row) => ({
    seq: null,
    at: row.at,
    deviceAt: null,
    who: row.name,
    role: '',
    what: 'refused',
    params: { action: row.action },
    code: null,
    isTrouble: true,
    reasons: reasonsSchema.parse(row.reasons).map(({ code, params, ruleId }) => ({
      code,
      ...(params ? { params } : {}),
      ...(ruleId ? { ruleId } : {}),
    })),
    corrects: false,
    isLate: false,
  }))
}
