import 'server-only'
import { assertCan, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { auditJob } from '@/lib/calc/audit'
import type { JobAudit } from '@/lib/calc/audit-types'
import { type GasCode, isGasCode } from '@/lib/calc/gas-data'
import { jobSpans } from '@/lib/calc/job-spans'
import { AppError } from '@/lib/errors'
import { db } from './client'
import {
  type AuditedReading,
  type JobEstimateRow,
  readJobEstimates,
  readJobReadings,
} from './gas-audit-rows'

const PAGE = 25

export type GasSide = 'oxygen' | 'fuel'

export type AuditedJob = Readonly<{
  id: string
  number: string
  title: string
  siteName: string
  crewName: string | null
  isRunning: boolean
  plannedStart: Date
  estimate: JobEstimateRow | null
  /** Null where there is no estimate or no pair of readings to compare with it. */
  oxygen: JobAudit | null
  fuel: JobAudit | null
}>

const JOB_COLUMNS = {
  id: true,
  siteId: true,
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

function sidesOf(
  id: string,
  estimate: JobEstimateRow | undefined,
  readings: readonly AuditedReading[],
) {
  if (!estimate) return { oxygen: null, fuel: null }
  const fuel = isGasCode(estimate.fuel) ? estimate.fuel : null
  return {
    oxygen: audit(readings, {
      id,
      gas: 'oxygen',
      meanKg: estimate.oxygen_kg,
      uKg: estimate.oxygen_u_kg,
    }),
    fuel: fuel
      ? audit(readings, { id, gas: fuel, meanKg: estimate.fuel_kg, uKg: estimate.fuel_u_kg })
      : null,
  }
}

export type AuditFilter = Readonly<{ siteId: string | null; after: string | null }>
export type AuditPage = Readonly<{ jobs: readonly AuditedJob[]; next: string | null }>

/** Jobs that were cut, the latest first, each with its use beside its estimate; a page of 25. */
export async function listAudits(
  viewer: Viewer,
  { siteId, after }: AuditFilter,
): Promise<AuditPage> {
  if (siteId) assertCan(viewer, 'audit:read', siteId)
  const siteIds = siteId ? [siteId] : sitesWhere(viewer, 'audit:read')
  if (siteIds.length === 0) throw new AppError('FORBIDDEN', { action: 'audit:read' })
  const [day, id] = after?.split('~') ?? []
  const startedOn = day ? new Date(`${day}T00:00:00Z`) : null
  const older =
    startedOn && id && !Number.isNaN(startedOn.getTime())
      ? { OR: [{ plannedStart: { lt: startedOn } }, { plannedStart: startedOn, id: { lt: id } }] }
      : {}
  const found = await db.job.findMany({
    where: {
      siteId: { in: siteIds },
      permits: { some: { issuedAt: { not: null } } },
      ...older,
    },
    orderBy: [{ plannedStart: 'desc' }, { id: 'desc' }],
    take: PAGE + 1,
    select: JOB_COLUMNS,
  })
  const shown = found.slice(0, PAGE)
  const jobIds = shown.map((job) => job.id)
  const [readings, estimates] = await Promise.all([
    readJobReadings(jobIds),
    readJobEstimates(jobIds),
  ])
  const last = found.length > PAGE ? shown.at(-1) : undefined
  return {
    next: last ? `${last.plannedStart.toISOString().slice(0, 10)}~${last.id}` : null,
    jobs: shown.map((job) => {
      const estimate = estimates.find((row) => row.job_id === job.id)
      return { ...toHead(job), estimate: estimate ?? null, ...sidesOf(job.id, estimate, readings) }
    }),
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
    logs: readonly Readonly<{ from: Date; to: Date; pieces: number }>[]
  }>

/** One job: what it used, interval by interval, beside what was estimated before its first cut. */
export async function getJobAudit(viewer: Viewer, jobId: string): Promise<JobAuditDetail> {
  const job = await db.job.findUnique({ where: { id: jobId }, select: JOB_COLUMNS })
  if (!job) throw new AppError('NOT_FOUND')
  assertCan(viewer, 'audit:read', job.siteId)
  const [readings, estimates, logs] = await Promise.all([
    readJobReadings([jobId]),
    readJobEstimates([jobId]),
    db.hotWorkLog.findMany({
      where: { jobId },
      orderBy: { fromAt: 'asc' },
      take: 500,
      select: { fromAt: true, toAt: true, pieces: true },
    }),
  ])
  const estimate = estimates[0]
  return {
    ...toHead(job),
    siteId: job.siteId,
    zone: job.site.zone,
    estimate: estimate ?? null,
    ...sidesOf(jobId, estimate, readings),
    readings,
    logs: logs.map((log) => ({ from: log.fromAt, to: log.toAt, pieces: log.pieces })),
  }
}
