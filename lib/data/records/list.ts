import 'server-only'
import { sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import type { PermitState } from '@/lib/permit/types'
import type { RecordFilter } from '@/lib/schemas/record'
import { db } from '../client'

const PAGE = 50

export type RecordRow = Readonly<{
  id: string
  number: string
  state: PermitState
  isStopped: boolean
  endedAt: Date
  issuedAt: Date | null
  what: string
  areaName: string
  siteId: string
  siteName: string
  zone: string
  operatorName: string
}>

export type SiteVerdict = Readonly<{
  chain: string
  siteName: string | null
  zone: string
  checkedAt: Date | null
  lastSeq: number
  ok: boolean
  firstBadSeq: number | null
}>

export type RecordList = Readonly<{
  rows: readonly RecordRow[]
  next: string | null
  verdicts: readonly SiteVerdict[]
  sites: readonly Readonly<{ id: string; name: string }>[]
  now: Date
}>

interface Stored {
  id: string
  number: number
  job_number: string
  state: string
  stopped_at: Date | null
  state_at: Date
  issued_at: Date | null
  what: string
  area: string
  site_id: string
  site: string
  zone: string
  operator: string
}

interface Cursor {
  at: Date
  id: string
}

function readCursor(text: string | null): Cursor {
  const [at, id] = text?.split('~') ?? []
  const read = at ? new Date(at) : null
  if (!read || Number.isNaN(read.getTime()) || !id || !/^[0-9a-f-]{36}$/.test(id))
    return { at: new Date('9999-12-31T00:00:00Z'), id: 'ffffffff-ffff-ffff-ffff-ffffffffffff' }
  return { at: read, id }
}

async function readVerdicts(siteIds: readonly string[]): Promise<SiteVerdict[]> {
  const rows = await db.$queryRaw<
    {
      chain: string
      site: string | null
      zone: string
      checked_at: Date | null
      last_seq: bigint | null
      ok: boolean | null
      first_bad_seq: bigint | null
    }[]
  >`
    SELECT c.chain, s.name AS site, coalesce(s.zone, (SELECT zone FROM company LIMIT 1)) AS zone, last.checked_at, last.last_seq, last.ok, last.first_bad_seq
    FROM unnest(${siteIds as string[]} || ARRAY['company']) AS c (chain)
    LEFT JOIN sites s ON s.id::text = c.chain
    LEFT JOIN LATERAL (SELECT * FROM chain_checks k WHERE k.chain = c.chain ORDER BY k.checked_at DESC, k.id DESC LIMIT 1) AS last ON true
    ORDER BY s.name NULLS LAST`
  return rows.map((row) => ({
    chain: row.chain,
    siteName: row.site,
    zone: row.zone,
    checkedAt: row.checked_at,
    lastSeq: Number(row.last_seq ?? 0),
    ok: row.ok ?? true,
    firstBadSeq: row.first_bad_seq === null ? null : Number(row.first_bad_seq),
  }))
}

async function readRows(siteIds: readonly string[], filter: RecordFilter): Promise<Stored[]> {
  const cursor = readCursor(filter.after)
  const { state, from, to } = filter
  return db.$queryRaw<Stored[]>`
    SELECT p.id, p.number, j.number AS job_number, p.state, p.stopped_at, p.state_at, p.issued_at, p.what,
           a.name AS area, s.id AS site_id, s.name AS site, s.zone, o.name AS operator
    FROM permits p JOIN jobs j ON j.id = p.job_id JOIN areas a ON a.id = p.area_id JOIN sites s ON s.id = p.site_id JOIN people o ON o.id = p.operator_id
    WHERE p.site_id = ANY (${siteIds as string[]}::uuid[]) AND p.state IN ('closed', 'withdrawn')
      AND (${state} = 'all' OR (${state} = 'stopped' AND p.stopped_at IS NOT NULL) OR (p.state = ${state} AND p.stopped_at IS NULL))
      AND (${from}::date IS NULL OR (p.state_at AT TIME ZONE s.zone)::date >= ${from}::date)
      AND (${to}::date IS NULL OR (p.state_at AT TIME ZONE s.zone)::date <= ${to}::date)
      AND (p.state_at, p.id) < (${cursor.at}, ${cursor.id}::uuid)
    ORDER BY p.state_at DESC, p.id DESC LIMIT ${PAGE + 1}`
}

/** Permits that are over, of the viewer's sites, the last first, with what the last check of each chain found. */
export async function listRecords(viewer: Viewer, filter: RecordFilter): Promise<RecordList> {
  const mine = sitesWhere(viewer, 'record:read')
  if (mine.length === 0) throw new AppError('FORBIDDEN', { action: 'record:read' })
  if (filter.site !== null && !mine.includes(filter.site)) throw new AppError('NOT_FOUND')
  const [found, verdicts, sites, clock] = await Promise.all([
    readRows(filter.site === null ? mine : [filter.site], filter),
    readVerdicts(filter.site === null ? mine : [filter.site]),
    db.site.findMany({
      where: { id: { in: mine } },
      select: { id: true, name: true },
      orderBy: { name: 'asc' },
    }),
    db.$queryRaw<{ now: Date }[]>`SELECT kerf_now() AS now`,
  ])
  const shown = found.slice(0, PAGE)
  const last = found.length > PAGE ? shown.at(-1) : undefined
  return {
    now: clock[0]?.now ?? new Date(),
    sites,
    verdicts,
    next: last ? `${last.state_at.toISOString()}~${last.id}` : null,
    rows: shown.map((row) => ({
      id: row.id,
      number: `${row.job_number}-${row.number}`,
      state: row.state as PermitState, // a CHECK holds the column to these
      isStopped: row.stopped_at !== null,
      endedAt: row.state_at,
      issuedAt: row.issued_at,
      what: row.what,
      areaName: row.area,
      siteId: row.site_id,
      siteName: row.site,
      zone: row.zone,
      operatorName: row.operator,
    })),
  }
}
