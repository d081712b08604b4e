import 'server-only'
import { z } from 'zod'
import { assertCan, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { auditJob } from '@/lib/calc/audit'
import type { JobAudit } from '@/lib/calc/audit-types'
import { type DoneShare, doneShare } from '@/lib/calc/done-share'
import { type GasCode, isGasCode } from '@/lib/calc/gas-data'
import { jobSpans } from '@/lib/calc/job-spans'
import { type Narrowing, narrowings } from '@/lib/calc/next-reading'
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

const PAGE = 25
/** An address that names no possible id names nothing. */
const isId = (text: string) => z.uuid().safeParse(text).success

export type GasSide = 'oxygen' | 'fuel'

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

function audit(
  readings: readonly AuditedReading[],
  job: Readonly<{ id: string; gas: GasCode; meanKg: number; uKg: number }>,
): JobAudit | null {
  const spans = jobSpans(
    readings.filter((reading) => reading.gasId === job.gas),
    job.id,
  )
  if (!spans.some((span) => span.readings.length > 1)) return null
  const outcome = auditJob({
    gas: job.gas,
    spans,
    estimate: { meanKg: job.meanKg, standardUncertaintyKg: job.uKg },
  })
  return outcome.ok ? outcome : null
}

type Estimate = Readonly<{ gas: GasCode; meanKg: number; standardUncertaintyKg: number }>

/** An estimate by gas, of the whole list. */
function estimatesOf(row: JobEstimateRow | undefined): Record<GasSide, Estimate | null> {
  if (!row) return { oxygen: null, fuel: null }
  const { fuel, oxygen_kg: oxygenKg, oxygen_u_kg: oxygenUKg, fuel_kg: fuelKg } = row
  return {
    oxygen: { gas: 'oxygen', meanKg: oxygenKg, standardUncertaintyKg: oxygenUKg },
    fuel: isGasCode(fuel)
      ? { gas: fuel, meanKg: fuelKg, standardUncertaintyKg: row.fuel_u_kg }
      : null,
  }
}

/** Both gases against the estimate of what was cut; the tables err the same way on every cut, so uncertainty goes with the share. */
function sidesOf(
  id: string,
  known: Readonly<{
    estimate: JobEstimateRow | undefined
    done: DoneShare | null
    readings: readonly AuditedReading[]
  }>,
): Record<GasSide, JobAudit | null> {
  const whole = estimatesOf(known.estimate)
  const sideOf = (side: GasSide) => {
    const estimate = whole[side]
    const share = known.done?.[side] ?? 1
    if (!estimate || share <= 0) return null
    const { gas, meanKg, standardUncertaintyKg } = estimate
    return audit(known.readings, {
      id,
      gas,
      meanKg: meanKg * share,
      uKg: standardUncertaintyKg * share,
    })
  }
  return { oxygen: sideOf('oxygen'), fuel: sideOf('fuel') }
}

export type AuditFilter = Readonly<{
  siteId: string | null
  /** Only jobs that ended within so many days; null is all. */
  days: number | null
  after: string | null
}>
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

/** Jobs that were cut, the latest first, each with its use beside its estimate; a page of 25. */
export async function listAudits(
  viewer: Viewer,
  { siteId, days, after }: AuditFilter,
): Promise<AuditPage> {
  if (siteId) assertCan(viewer, 'audit:read', siteId)
  const siteIds = siteId ? [siteId] : sitesWhere(viewer, 'audit:read')
  if (siteIds.length === 0) throw new AppError('FORBIDDEN', { action: 'audit:read' })
  const since =
    days === null
      ? {}
      : { plannedEnd: { gte: new Date((await readNow()).getTime() - days * DAY_MS) } }
  const found = await db.job.findMany({
    where: {
      siteId: { in: siteIds },
      permits: { some: { issuedAt: { not: null } } },
      ...since,
      ...olderThan(after),
    },
    orderBy: [{ plannedStart: 'desc' }, { id: 'desc' }],
    take: PAGE + 1,
    select: JOB_COLUMNS,
  })
  const shown = found.slice(0, PAGE)
  const jobIds = shown.map((job) => job.id)
  const [readings, estimates, pieces] = await Promise.all([
    readJobReadings(jobIds),
    readJobEstimates(jobIds),
    readDonePieces(jobIds),
  ])
  const cuts = await readCutShares(estimates.map((row) => row.estimate_id))
  const ofJob = (jobId: string) => {
    const estimate = estimates.find((row) => row.job_id === jobId)
    const done = doneShare(
      cuts.filter((cut) => cut.jobId === jobId),
      pieces.filter((row) => row.jobId === jobId),
    )
    return { estimate: estimate ?? null, done, ...sidesOf(jobId, { estimate, done, readings }) }
  }
  const last = found.length > PAGE ? shown.at(-1) : undefined
  return {
    next: last ? `${last.plannedStart.toISOString().slice(0, 10)}~${last.id}` : null,
    jobs: shown.map((job) => ({ ...toHead(job), ...ofJob(job.id) })),
  }
}

type FoundJob = Readonly<{
  id: string
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
  }>

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
  const sides = sidesOf(jobId, { estimate, done, readings })
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
    readings,
    intervals: { oxygen: intervalsOf('oxygen'), fuel: intervalsOf('fuel') },
    crewFactor: beyondEstimate(learned(job.siteId, job.crewId), estimate),
    narrowings: {
      oxygen: narrowingsOf(sides.oxygen, readings),
      fuel: narrowingsOf(sides.fuel, readings),
    },
  }
}
