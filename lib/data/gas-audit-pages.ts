import 'server-only'
import { db } from './client'
import type { GasSide } from './gas-audit-sides'

const PAGE = 25
const NO_ID = '00000000-0000-0000-0000-000000000000'

export const JOB_COLUMNS = {
  id: true,
  siteId: true,
  crewId: true,
  number: true,
  title: true,
  state: true,
  plannedStart: true,
  site: { select: { name: true, shortName: true, zone: true } },
  crew: { select: { name: true } },
} as const

export type FoundJob = Readonly<{
  id: string
  siteId: string
  crewId: string | null
  number: string
  title: string
  state: string
  plannedStart: Date
  site: { name: string; shortName: string }
  crew: { name: string } | null
}>

export type AuditFilter = Readonly<{
  siteId: string | null
  /** Only jobs that ended within so many days; null is all. */
  days: number | null
  after: string | null
  /** The latest first, or those furthest from what was expected of the gas as the last look found them. */
  order?: AuditOrder
  side?: GasSide
}>
export type AuditOrder = 'latest' | 'off'

const CURSOR = /^(\d{4}-\d\d-\d\d)~([0-9a-f-]{36})$/

/** Jobs before the last one of the page before; a cursor that nobody gave out reads from the top. */
function olderThan(after: string | null) {
  const [, day, id] = CURSOR.exec(after ?? '') ?? []
  const startedOn = new Date(`${day}T00:00:00Z`)
  if (!id || Number.isNaN(startedOn.getTime())) return {}
  return { OR: [{ plannedStart: { lt: startedOn } }, { plannedStart: startedOn, id: { lt: id } }] }
}

type Asked = Readonly<{ siteIds: readonly string[]; since: Date | null; after: string | null }>
type FoundPage = Readonly<{ shown: readonly FoundJob[]; next: string | null }>

export async function latestJobs({ siteIds, since, after }: Asked): Promise<FoundPage> {
  const found = await db.job.findMany({
    where: {
      siteId: { in: [...siteIds] },
      permits: { some: { issuedAt: { not: null } } },
      ...(since ? { plannedEnd: { gte: since } } : {}),
      ...olderThan(after),
    },
    orderBy: [{ plannedStart: 'desc' }, { id: 'desc' }],
    take: PAGE + 1,
    select: JOB_COLUMNS,
  })
  const last = found.length > PAGE ? found[PAGE - 1] : undefined
  return {
    shown: found.slice(0, PAGE),
    next: last ? `${last.plannedStart.toISOString().slice(0, 10)}~${last.id}` : null,
  }
}

const DISTANCE_CURSOR = /^([0-9.e+-]+)~([0-9a-f-]{36})$/

export async function furthestJobs({
  siteIds,
  since,
  after,
  side,
}: Asked & { side: GasSide }): Promise<FoundPage> {
  const [, distance, afterId] = DISTANCE_CURSOR.exec(after ?? '') ?? []
  const isAfter = distance !== undefined && Number.isFinite(Number(distance))
  const rows = await db.$queryRaw<{ id: string; distance: number }[]>`
    SELECT job_id AS id, distance FROM job_figures
    WHERE side = ${side} AND site_id = ANY(${siteIds}::uuid[]) AND (${since}::timestamptz IS NULL OR ended_on >= ${since}::timestamptz)
      AND (NOT ${isAfter} OR (distance, job_id) < (${isAfter ? Number(distance) : 0}::float8, ${afterId ?? NO_ID}::uuid))
    ORDER BY distance DESC, job_id DESC LIMIT ${PAGE + 1}`
  const ids = rows.slice(0, PAGE).map((row) => row.id)
  const jobs = await db.job.findMany({ where: { id: { in: ids } }, select: JOB_COLUMNS })
  const last = rows.length > PAGE ? rows[PAGE - 1] : undefined
  return {
    shown: ids.flatMap((id) => jobs.find((job) => job.id === id) ?? []),
    next: last ? `${last.distance}~${last.id}` : null,
  }
}
