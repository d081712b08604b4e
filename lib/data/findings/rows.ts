import 'server-only'
import type { FINDING_DECISIONS, FindingFilter } from '@/lib/schemas/finding'
import { db } from '../client'

/** Findings that one page shows. */
const PAGE = 50
const NO_ID = '00000000-0000-0000-0000-000000000000'

export type Decision = (typeof FINDING_DECISIONS)[number]

export interface FindingRow {
  id: string
  site_id: string
  site_name: string
  zone: string
  gas_id: string
  danger: number
  cost_minor: number | null
  found_at: Date
  chance: number
  hypotheses: unknown
  decision: Decision | null
  decided_by: string | null
  decided_at: Date | null
  note: string | null
  hypothesis: number | null
}

const COLUMNS = `f.id, f.site_id, s.short_name AS site_name, s.zone, f.gas_id, f.danger, f.cost_minor, f.found_at, f.chance, f.hypotheses,
  d.decision, p.name AS decided_by, d.at AS decided_at, d.note, d.hypothesis`
const FROM = `findings f JOIN sites s ON s.id = f.site_id
  LEFT JOIN finding_standings d ON d.key = f.key LEFT JOIN people p ON p.id = d.person_id`

type Asked = Readonly<{
  siteIds: readonly string[]
  show: FindingFilter['show']
  /** The last one of the page before; one that nobody gave out reads from the top. */
  after: string | null
  /** Only those in which a job has a part. */
  jobId: string | null
}>
type FoundPage = Readonly<{ rows: readonly FindingRow[]; next: string | null }>

const OPEN_CURSOR = /^(\d)~(-?\d{1,12})~([0-9a-f-]{36})$/
const DECIDED_CURSOR = /^(\d{4}-\d\d-\d\dT[\d:.]{8,12}Z)~([0-9a-f-]{36})$/
const IS_OPEN = `f.site_id = ANY($1::uuid[]) AND coalesce(d.decision, 'looking') IN ('looking', 'withdrawn')
  AND f.id = ANY(coalesce((SELECT r.found FROM audit_runs r WHERE r.finished_at IS NOT NULL AND NOT r.failed
                           ORDER BY r.finished_at DESC LIMIT 1), '{}'))`
const OF_JOB = `($2::text IS NULL OR f.hypotheses #> '{0,jobIds}' @> to_jsonb($2::text))`

/** Those of the last look that nobody has decided: leaks first, then by what they cost. */
async function openOnes({ siteIds, after, jobId }: Asked): Promise<FoundPage> {
  const [, danger, cost, id] = OPEN_CURSOR.exec(after ?? '') ?? []
  const rows = await db.$queryRawUnsafe<FindingRow[]>(
    `SELECT ${COLUMNS} FROM ${FROM}
     WHERE ${IS_OPEN} AND ${OF_JOB}
       AND (NOT $3 OR (f.danger, coalesce(f.cost_minor, -1), f.id) < ($4::int, $5::bigint, $6::uuid))
     ORDER BY f.danger DESC, coalesce(f.cost_minor, -1) DESC, f.id DESC LIMIT ${PAGE + 1}`,
    ...[siteIds, jobId, id !== undefined, Number(danger ?? 0), Number(cost ?? 0), id ?? NO_ID],
  )
  return pageOf(rows, (last) => `${last.danger}~${last.cost_minor ?? -1}~${last.id}`)
}

/** Those that somebody accepted or set aside, by their last decision, the latest first. */
async function decidedOnes({ siteIds, after, jobId }: Asked): Promise<FoundPage> {
  const [, at, id] = DECIDED_CURSOR.exec(after ?? '') ?? []
  const isAfter = id !== undefined && !Number.isNaN(Date.parse(at ?? ''))
  const rows = await db.$queryRawUnsafe<FindingRow[]>(
    `SELECT ${COLUMNS} FROM ${FROM}
     WHERE f.site_id = ANY($1::uuid[]) AND ${OF_JOB} AND d.finding_id = f.id AND d.decision IN ('accepted', 'rejected')
       AND (NOT $3 OR (d.at, f.id) < ($4::timestamptz, $5::uuid))
     ORDER BY d.at DESC, f.id DESC LIMIT ${PAGE + 1}`,
    ...[siteIds, jobId, isAfter, isAfter ? at : '2000-01-01T00:00:00Z', id ?? NO_ID],
  )
  return pageOf(rows, (last) => `${last.decided_at?.toISOString() ?? ''}~${last.id}`)
}

function pageOf(found: readonly FindingRow[], keyOf: (last: FindingRow) => string): FoundPage {
  const rows = found.slice(0, PAGE)
  const last = found.length > PAGE ? rows.at(-1) : undefined
  return { rows, next: last ? keyOf(last) : null }
}

export const readFindingRows = (asked: Asked): Promise<FoundPage> =>
  asked.show === 'open' ? openOnes(asked) : decidedOnes(asked)

/** One finding with what stands decided of it. */
export async function readFindingRow(findingId: string): Promise<FindingRow | undefined> {
  const rows = await db.$queryRawUnsafe<FindingRow[]>(
    `SELECT ${COLUMNS} FROM ${FROM} WHERE f.id = $1::uuid`,
    findingId,
  )
  return rows[0]
}

/** How many of the last look wait for somebody, and how many of them may be a leak. */
export async function readWaiting(
  siteIds: readonly string[],
): Promise<{ count: number; leaks: number }> {
  const [row] = await db.$queryRawUnsafe<{ count: number; leaks: number }[]>(
    `SELECT count(*)::int AS count, (count(*) FILTER (WHERE f.danger > 0))::int AS leaks FROM ${FROM} WHERE ${IS_OPEN}`,
    siteIds,
  )
  return row ?? { count: 0, leaks: 0 }
}
