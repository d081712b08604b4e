import 'server-only'
import { z } from 'zod'
import { assertCan, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import type { JobAudit } from '@/lib/calc/audit-types'
import { type DoneShare, doneShare } from '@/lib/calc/done-share'
import { accountFor, restDeviations } from '@/lib/calc/job-account'
import { type Narrowing, narrowings } from '@/lib/calc/next-reading'
import type { SharedUse } from '@/lib/calc/shared-use'
import { AppError } from '@/lib/errors'
import { db } from './client'
import { type CrewUsed, crewsLearned } from './crew-factors'
import { readNow } from './cylinders'
import { type AuditInterval, auditIntervals } from './gas-audit-intervals'
import {
  type AuditedReading,
  type JobEstimateRow,
  readCutShares,
  readDonePieces,
  readJobEstimates,
  readJobLogs,
  readJobReadings,
} from './gas-audit-rows'
import { readSharedUse } from './gas-audit-shared'
import { estimatesOf, type GasSide, sidesOf } from './gas-audit-sides'

export type { GasSide } from './gas-audit-sides'

const PAGE = 25
const NO_ID = '00000000-0000-0000-0000-000000000000'
/** An address that names no possible id names nothing. */
const isId = (text: string) => z.uuid().safeParse(text).success

export type AuditedJob = Readonly<{
  id: string
  number: string
  title: string
  siteName: string
  crewName: string | null
  isRunning: boolean
  plannedStart: Date
  /** The whole list's, as it was kept. */
  estimate: JobEstimateRow | null
  /** The share of it that was cut; null where the estimate does not say by cut. */
  done: DoneShare | null
  /** Against the estimate of what was cut; null where there is none, or no pair of readings. */
  oxygen: JobAudit | null
  fuel: JobAudit | null
  /** What estimate and crew leave of the use, in its deviations. */
  deviations: Readonly<Record<GasSide, number | null>>
}>

const JOB_COLUMNS = {
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
export type AuditPage = Readonly<{ jobs: readonly AuditedJob[]; next: string | null }>

const DAY_MS = 86_400_000
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

async function latestJobs({ siteIds, since, after }: Asked): Promise<FoundPage> {
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

async function furthestJobs({
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

/** Jobs that were cut, in the order asked, each with its use beside its estimate; a page of 25. */
export async function listAudits(
  viewer: Viewer,
  { siteId, days, after, order = 'latest', side = 'oxygen' }: AuditFilter,
): Promise<AuditPage> {
  if (siteId) assertCan(viewer, 'audit:read', siteId)
  const siteIds = siteId ? [siteId] : sitesWhere(viewer, 'audit:read')
  if (siteIds.length === 0) throw new AppError('FORBIDDEN', { action: 'audit:read' })
  const since = days === null ? null : new Date((await readNow()).getTime() - days * DAY_MS)
  const asked = { siteIds, since, after }
  const { shown, next } = await (order === 'off'
    ? furthestJobs({ ...asked, side })
    : latestJobs(asked))
  const jobIds = shown.map((job) => job.id)
  const [readings, estimates, pieces, learned] = await Promise.all([
    readJobReadings(jobIds),
    readJobEstimates(jobIds),
    readDonePieces(jobIds),
    crewsLearned(db),
  ])
  const cuts = await readCutShares(estimates.map((row) => row.estimate_id))
  const shared = await readSharedUse(readings, { estimates, cuts })
  const ofJob = ({ id: jobId, siteId: ownSiteId, crewId }: FoundJob) => {
    const estimate = estimates.find((row) => row.job_id === jobId)
    const done = doneShare(
      cuts.filter((cut) => cut.jobId === jobId),
      pieces.filter((row) => row.jobId === jobId),
    )
    const sides = sidesOf(jobId, { estimate, done, readings, shared })
    const crewFactor = beyondEstimate(learned(ownSiteId, crewId), estimate)
    return { estimate: estimate ?? null, done, ...sides, ...deviationsOf(sides, crewFactor) }
  }
  return { next, jobs: shown.map((job) => ({ ...toHead(job), ...ofJob(job) })) }
}

type FoundJob = Readonly<{
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

const toHead = ({ id, number, title, state, plannedStart, site, crew }: FoundJob) => ({
  id,
  number,
  title,
  siteName: site.shortName,
  crewName: crew?.name ?? null,
  isRunning: state === 'running',
  plannedStart,
})

export type JobAuditDetail = AuditedJob &
  Readonly<{
    zone: string
    siteId: string
    /** Every reading that made the numbers, by its moment. */
    readings: readonly AuditedReading[]
    intervals: Readonly<Record<GasSide, readonly AuditInterval[]>>
    /** How its crew runs against the table, beyond what the estimate went by; null where nobody knows. */
    crewFactor: CrewUsed | null
    /** What one more reading at each end of a stay would leave of the doubt, the best first. */
    narrowings: Readonly<Record<GasSide, readonly OneMoreReading[]>>
    /** Intervals in which others worked from the same cylinder, with every job's part. */
    shared: readonly SharedInterval[]
  }>

export type SharedInterval = SharedUse &
  Readonly<{ serial: string; gasId: string; numbers: ReadonlyMap<string, string> }>

/** The job's own shared intervals, their cylinders and jobs by the names that people know. */
async function sharedOf(
  jobId: string,
  shared: readonly SharedUse[],
  readings: readonly AuditedReading[],
): Promise<SharedInterval[]> {
  const own = shared.filter((one) => one.shares.some((share) => share.jobId === jobId))
  if (own.length === 0) return []
  const jobs = await db.job.findMany({
    where: { id: { in: own.flatMap((one) => one.shares.map((share) => share.jobId)) } },
    select: { id: true, number: true },
  })
  const numbers = new Map(jobs.map((job) => [job.id, job.number]))
  return own.map((one) => {
    const reading = readings.find(({ cylinderId }) => cylinderId === one.cylinderId)
    return { ...one, serial: reading?.serial ?? '', gasId: reading?.gasId ?? '', numbers }
  })
}

export type OneMoreReading = Narrowing &
  Readonly<{ serial: string; atMs: number; isFirst: boolean }>

/** Of each stay its first and its last reading, as if the same instrument were read once more. */
function narrowingsOf(
  audit: JobAudit | null,
  readings: readonly AuditedReading[],
): OneMoreReading[] {
  if (!audit || audit.usage.standardUncertainty === 0) return []
  const ends = audit.spans.flatMap(({ cylinderId, intervals }) => {
    const [first, last] = [intervals[0], intervals.at(-1)]
    if (!first || !last) return []
    return [
      { atMs: first.fromMs, weight: 1 },
      { atMs: last.toMs, weight: -1 },
    ].flatMap(({ atMs, weight }) => {
      const reading = readings.find((one) => one.cylinderId === cylinderId && one.atMs === atMs)
      if (!reading || reading.standardUncertaintyKg === 0) return []
      const variance = reading.standardUncertaintyKg ** 2
      return [{ id: reading.eventId, weight, variance, furtherVariance: variance, reading }]
    })
  })
  return narrowings(ends, audit.usage.standardUncertainty ** 2).flatMap((one) => {
    const end = ends.find((candidate) => candidate.id === one.id)
    if (!end) return []
    const { serial, atMs } = end.reading
    return [{ ...one, serial, atMs, isFirst: end.weight > 0 }]
  })
}

/** Of both gases, what the job's account leaves; a crew's factor, learned of oxygen, multiplies both as in an estimate. */
function deviationsOf(sides: Record<GasSide, JobAudit | null>, factor: CrewUsed | null) {
  const of = (audit: JobAudit | null) =>
    audit
      ? restDeviations(accountFor({ estimate: audit.estimate, usage: audit.usage, factor }))
      : null
  return { deviations: { oxygen: of(sides.oxygen), fuel: of(sides.fuel) } }
}

/** An estimate that went by a crew's factor has it in it already. */
const beyondEstimate = (learned: CrewUsed | null, estimate: JobEstimateRow | undefined) =>
  learned && estimate && estimate.crew_factor === null ? learned : null

/** One job: what it used, interval by interval, beside what was estimated before its first cut. */
export async function getJobAudit(viewer: Viewer, jobId: string): Promise<JobAuditDetail> {
  if (!isId(jobId)) throw new AppError('NOT_FOUND')
  const job = await db.job.findUnique({ where: { id: jobId }, select: JOB_COLUMNS })
  if (!job) throw new AppError('NOT_FOUND')
  assertCan(viewer, 'audit:read', job.siteId)
  const [readings, estimates, logs, learned] = await Promise.all([
    readJobReadings([jobId]),
    readJobEstimates([jobId]),
    readJobLogs(jobId),
    crewsLearned(db),
  ])
  const estimate = estimates[0]
  const cuts = estimate ? await readCutShares([estimate.estimate_id]) : []
  const done = doneShare(cuts, logs)
  const shared = await readSharedUse(readings, { estimates, cuts })
  const sides = sidesOf(jobId, { estimate, done, readings, shared })
  const crewFactor = beyondEstimate(learned(job.siteId, job.crewId), estimate)
  const whole = estimatesOf(estimate)
  const intervalsOf = (side: GasSide) =>
    sides[side] && whole[side]
      ? auditIntervals(sides[side], { readings, logs, cuts, estimate: whole[side] })
      : []
  return {
    ...toHead(job),
    siteId: job.siteId,
    zone: job.site.zone,
    estimate: estimate ?? null,
    done,
    ...sides,
    ...deviationsOf(sides, crewFactor),
    readings,
    intervals: { oxygen: intervalsOf('oxygen'), fuel: intervalsOf('fuel') },
    crewFactor,
    shared: await sharedOf(jobId, shared, readings),
    narrowings: {
      oxygen: narrowingsOf(sides.oxygen, readings),
      fuel: narrowingsOf(sides.fuel, readings),
    },
  }
}
