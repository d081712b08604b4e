import 'server-only'
import { z } from 'zod'
import { assertCan, can, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { type GasCode, isGasCode } from '@/lib/calc/gas-data'
import { AppError } from '@/lib/errors'
import { type FindingFilter, hypothesesSchema } from '@/lib/schemas/finding'
import { db } from '../client'
import {
  type Decision,
  type FindingRow,
  readFindingRow,
  readFindingRows,
  readWaiting,
} from './rows'

const MOST_DECISIONS = 100

export type ListedCause = z.infer<typeof hypothesesSchema>[number]

export type FindingStanding = Readonly<{
  decision: Decision
  personName: string
  at: Date
  note: string
  hypothesis: number | null
}>

export type ListedFinding = Readonly<{
  id: string
  siteId: string
  siteName: string
  zone: string
  gas: GasCode
  danger: number
  costMinor: number | null
  foundAt: Date
  chance: number
  causes: readonly ListedCause[]
  serials: readonly string[]
  outfitNumber: string | null
  jobs: readonly Readonly<{ id: string; number: string }>[]
  standing: FindingStanding | null
  mayDecide: boolean
}>

export type LookState = Readonly<{
  finishedAt: Date | null
  /** Under way or waited for: how far it is; null when nothing is. */
  progress: Readonly<{ done: number; of: number }> | null
  isFailed: boolean
}>

export type FindingQueue = Readonly<{
  findings: readonly ListedFinding[]
  /** Where the rest begins. */
  next: string | null
  /** Of all pages: open ones, and how many of them may be a leak. */
  waiting: Readonly<{ count: number; leaks: number }>
  look: LookState
  /** A site in whose name the viewer may ask for another look. */
  lookFor: string | null
  currency: string
  sites: readonly Readonly<{ id: string; shortName: string }>[]
}>

/** Names of what findings speak of. */
async function readNames(causes: readonly ListedCause[]) {
  const ids = (pick: (cause: ListedCause) => readonly string[]) => [
    ...new Set(causes.flatMap(pick)),
  ]
  const [cylinders, outfits, jobs] = await Promise.all([
    db.cylinder.findMany({
      where: { id: { in: ids((one) => one.cylinderIds) } },
      select: { id: true, serial: true },
    }),
    db.outfit.findMany({
      where: { id: { in: ids((one) => (one.outfitId ? [one.outfitId] : [])) } },
      select: { id: true, number: true },
    }),
    db.job.findMany({
      where: { id: { in: ids((one) => one.jobIds) } },
      select: { id: true, number: true },
    }),
  ])
  return {
    serialOf: new Map(cylinders.map((one) => [one.id, one.serial])),
    outfitOf: new Map(outfits.map((one) => [one.id, one.number])),
    jobs,
  }
}

async function toListed(viewer: Viewer, rows: readonly FindingRow[]): Promise<ListedFinding[]> {
  const parsed = rows.map((row) => ({ row, causes: hypothesesSchema.parse(row.hypotheses) }))
  const names = await readNames(parsed.flatMap((one) => one.causes))
  return parsed.flatMap(({ row, causes }): ListedFinding[] => {
    const [first] = causes
    if (!first || !isGasCode(row.gas_id)) return []
    return [
      {
        id: row.id,
        siteId: row.site_id,
        siteName: row.site_name,
        zone: row.zone,
        gas: row.gas_id,
        danger: row.danger,
        costMinor: row.cost_minor,
        foundAt: row.found_at,
        chance: row.chance,
        causes,
        serials: first.cylinderIds.map((id) => names.serialOf.get(id) ?? ''),
        outfitNumber: first.outfitId ? (names.outfitOf.get(first.outfitId) ?? null) : null,
        jobs: names.jobs.filter((job) => first.jobIds.includes(job.id)),
        standing:
          row.decision && row.decided_at
            ? {
                decision: row.decision,
                personName: row.decided_by ?? '',
                at: row.decided_at,
                note: row.note ?? '',
                hypothesis: row.hypothesis,
              }
            : null,
        mayDecide: can(viewer, 'finding:decide', row.site_id),
      },
    ]
  })
}

async function readLook(): Promise<LookState> {
  const [open, last] = await Promise.all([
    db.auditRun.findFirst({
      where: { finishedAt: null },
      select: { parts: true, partsDone: true },
    }),
    db.auditRun.findFirst({
      where: { finishedAt: { not: null } },
      orderBy: { finishedAt: 'desc' },
      select: { finishedAt: true, failed: true },
    }),
  ])
  return {
    finishedAt: last?.finishedAt ?? null,
    isFailed: last?.failed ?? false,
    progress: open ? { done: open.partsDone, of: open.parts } : null,
  }
}

/** What waits to be looked into, leaks first and then by what it costs; or what was decided. */
export async function listFindings(
  viewer: Viewer,
  filter: FindingFilter,
  after: string | null = null,
): Promise<FindingQueue> {
  if (filter.site) assertCan(viewer, 'audit:read', filter.site)
  const siteIds = sitesWhere(viewer, 'audit:read')
  if (siteIds.length === 0) throw new AppError('FORBIDDEN', { action: 'audit:read' })
  const asked = { siteIds: filter.site ? [filter.site] : siteIds, show: filter.show, after }
  const [{ rows, next }, waiting, look, company, sites] = await Promise.all([
    readFindingRows({ ...asked, jobId: null }),
    readWaiting(asked.siteIds),
    readLook(),
    db.company.findFirst({ select: { currency: true } }),
    db.site.findMany({
      where: { id: { in: siteIds } },
      orderBy: { shortName: 'asc' },
      select: { id: true, shortName: true },
    }),
  ])
  return {
    findings: await toListed(viewer, rows),
    next,
    waiting,
    look,
    sites,
    currency: company?.currency ?? 'USD',
    lookFor: sitesWhere(viewer, 'finding:decide')[0] ?? null,
  }
}

/** Findings of the last look, and decided ones, in which a job has a part. */
export async function listFindingsOfJob(
  viewer: Viewer,
  job: Readonly<{ id: string; siteId: string }>,
): Promise<{ findings: readonly ListedFinding[]; currency: string }> {
  assertCan(viewer, 'audit:read', job.siteId)
  const asked = { siteIds: [job.siteId], jobId: job.id, after: null }
  const [open, decided, company] = await Promise.all([
    readFindingRows({ ...asked, show: 'open' }),
    readFindingRows({ ...asked, show: 'decided' }),
    db.company.findFirst({ select: { currency: true } }),
  ])
  return {
    findings: await toListed(viewer, [...open.rows, ...decided.rows]),
    currency: company?.currency ?? 'USD',
  }
}

export type EvidenceReading = Readonly<{
  eventId: string
  cylinderId: string
  serial: string
  kind: string
  at: Date
  personName: string
  gaugeKpa: number | null
  weightKg: number | null
  contentsKg: number | null
  contentsUKg: number | null
  /** A cause speaks of it. */
  isNamed: boolean
}>

export type FindingDetail = ListedFinding &
  Readonly<{
    readings: readonly EvidenceReading[]
    history: readonly FindingStanding[]
  }>

/** So many before and after, that the fall or the jump is seen. */
const AROUND = 4
const MOST_READINGS = 200

/** One finding with every reading it rests on, and what was decided of it. */
export async function getFinding(viewer: Viewer, findingId: string): Promise<FindingDetail> {
  if (!z.uuid().safeParse(findingId).success) throw new AppError('NOT_FOUND')
  const row = await readFindingRow(findingId)
  if (!row) throw new AppError('NOT_FOUND')
  assertCan(viewer, 'audit:read', row.site_id)
  const [listed] = await toListed(viewer, [row])
  if (!listed) throw new AppError('NOT_FOUND')
  const [readings, history] = await Promise.all([readEvidence(listed), readHistory(findingId)])
  return { ...listed, readings, history }
}

function readEvidence({ causes }: ListedFinding): Promise<EvidenceReading[]> {
  const equal = causes.filter((cause) => cause.isEqualFirst)
  const cylinderIds = [...new Set(equal.flatMap((cause) => cause.cylinderIds))]
  const named = [...new Set(equal.flatMap((cause) => cause.readingIds))]
  const from = new Date(Math.min(...equal.map((cause) => cause.fromMs)))
  const to = new Date(Math.max(...equal.map((cause) => cause.toMs)))
  return db.$queryRaw<EvidenceReading[]>`
    WITH told AS (
      SELECT e.*, row_number() OVER (
               PARTITION BY e.cylinder_id, e.at < ${from}, e.at > ${to} ORDER BY CASE WHEN e.at < ${from} THEN -e.seq ELSE e.seq END) AS nth
      FROM cylinder_events e
      WHERE e.cylinder_id = ANY(${cylinderIds}::uuid[]) AND (e.contents_kg IS NOT NULL OR e.marked_empty OR e.kind IN ('received', 'filled')))
    SELECT e.id AS "eventId", e.cylinder_id AS "cylinderId", c.serial, e.kind, e.at, p.name AS "personName",
           e.gauge_kpa AS "gaugeKpa", e.weight_kg AS "weightKg", e.contents_kg AS "contentsKg", e.contents_u_kg AS "contentsUKg",
           e.id = ANY(${named}::uuid[]) AS "isNamed"
    FROM told e JOIN cylinders c ON c.id = e.cylinder_id JOIN people p ON p.id = e.person_id
    WHERE e.at BETWEEN ${from} AND ${to} OR e.nth <= ${AROUND}
    ORDER BY c.serial, e.seq LIMIT ${MOST_READINGS}`
}

async function readHistory(findingId: string): Promise<FindingStanding[]> {
  return db.$queryRaw<FindingStanding[]>`
    SELECT d.decision, d.at, d.note, d.hypothesis, p.name AS "personName"
    FROM findings own JOIN findings f ON f.key = own.key JOIN finding_decisions d ON d.finding_id = f.id
    JOIN people p ON p.id = d.person_id
    WHERE own.id = ${findingId}::uuid ORDER BY d.at, d.id LIMIT ${MOST_DECISIONS}`
}
