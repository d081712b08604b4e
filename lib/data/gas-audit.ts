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
import { ENTRIES_A_PAGE, type EntriesPage, entriesOf, NO_ENTRIES } from './gas-audit-entries'
import { type AuditInterval, auditIntervals } from './gas-audit-intervals'
import {
  type AuditFilter,
  type FoundJob,
  furthestJobs,
  JOB_COLUMNS,
  latestJobs,
} from './gas-audit-pages'
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

const DAY_MS = 86_400_000
export type AuditPage = Readonly<{ jobs: readonly AuditedJob[]; next: string | null }>

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
    /** Every swap and reading that made the numbers, with what each put in. */
    entries: Readonly<Record<GasSide, EntriesPage>>
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
  shared: readonly SharedUse[],
): OneMoreReading[] {
  if (!audit || audit.usage.standardUncertainty === 0) return []
  const ends = audit.spans.flatMap(({ cylinderId, intervals }) => {
    const [first, last] = [intervals[0], intervals.at(-1)]
    if (!first || !last) return []
    // A part of what others shared goes by their estimates as well: a reading more narrows it by less.
    const isShared = shared.some(
      (one) =>
        one.cylinderId === cylinderId && one.fromMs === first.fromMs && one.toMs === first.toMs,
    )
    if (isShared) return []
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

/** Which page of its entries, a gas each; or all of them, for a file. */
export type EntriesAsked = Readonly<{
  after?: Readonly<Partial<Record<GasSide, string | undefined>>>
  isWhole?: boolean
}>

/** One job: what it used, interval by interval, beside what was estimated before its first cut. */
export async function getJobAudit(
  viewer: Viewer,
  jobId: string,
  entriesAsked: EntriesAsked = {},
): Promise<JobAuditDetail> {
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
  const entriesFor = (side: GasSide): EntriesPage | Promise<EntriesPage> => {
    const audit = sides[side]
    const known = { jobId, siteId: job.siteId, readings, shared }
    const page = entriesAsked.isWhole
      ? { after: null, most: readings.length }
      : { after: entriesAsked.after?.[side] ?? null, most: ENTRIES_A_PAGE }
    return audit ? entriesOf({ ...known, audit, ...page }) : NO_ENTRIES
  }
  const [oxygenEntries, fuelEntries] = await Promise.all([entriesFor('oxygen'), entriesFor('fuel')])
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
    entries: { oxygen: oxygenEntries, fuel: fuelEntries },
    narrowings: {
      oxygen: narrowingsOf(sides.oxygen, readings, shared),
      fuel: narrowingsOf(sides.fuel, readings, shared),
    },
  }
}
