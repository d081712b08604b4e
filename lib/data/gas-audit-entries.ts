import 'server-only'
import type { JobAudit } from '@/lib/calc/audit-types'
import { type JobEntry, jobEntries } from '@/lib/calc/job-entries'
import type { SharedUse } from '@/lib/calc/shared-use'
import { correctionSchema } from '@/lib/schemas/finding'
import { db } from './client'
import type { AuditedReading } from './gas-audit-rows'

/** Rows that one page shows of a gas; a long job has hundreds. */
export const ENTRIES_A_PAGE = 25

/** A cause that a person accepted, where it changes an entry: what it was meant to say, or a swap that nobody logged. */
export type AcceptedMark = Readonly<{
  kind: 'meant' | 'swap_not_logged'
  findingId: string
  personName: string
  at: Date
  kg: number
}>

export type AuditEntry = JobEntry &
  Readonly<{
    reading: AuditedReading
    /** What it held: as recorded, or as a person accepted that it was meant. A swap that nobody logged moves the use, not what was read. */
    heldKg: number
    /** The other cylinder of the same swap. */
    swappedWith: string | null
    /** Numbers of the other jobs that had a part in what was taken. */
    sharedWith: readonly string[]
    accepted: readonly AcceptedMark[]
  }>

export type EntriesPage = Readonly<{
  rows: readonly AuditEntry[]
  /** Of all pages. */
  count: number
  /** Key of the last row, where more follow. */
  next: string | null
}>

export const NO_ENTRIES: EntriesPage = { rows: [], count: 0, next: null }

type Asked = Readonly<{
  jobId: string
  siteId: string
  audit: JobAudit
  readings: readonly AuditedReading[]
  shared: readonly SharedUse[]
  /** The last entry of the page before; one that is none of them reads from the top. */
  after: string | null
  most: number
}>

/** Every swap and reading that made one gas's number, a page at a time, as people know them. */
export async function entriesOf(asked: Asked): Promise<EntriesPage> {
  const { jobId, siteId, audit, after, most } = asked
  const readings = asked.readings.filter((one) => one.gasId === audit.gas)
  const own = asked.shared.filter((one) => one.shares.some((share) => share.jobId === jobId))
  const all = jobEntries(audit, readings, own)
  const from = all.findIndex((one) => one.eventId === after) + 1
  const shown = all.slice(from, from + most)
  const readingOf = new Map(readings.map((one) => [one.eventId, one]))
  const others = shown.flatMap((one) => one.shared?.shares.map((share) => share.jobId) ?? [])
  const [swaps, numbers, accepted] = await Promise.all([
    readSwaps(shown.flatMap((one) => readingOf.get(one.eventId)?.swapId ?? [])),
    readNumbers(others.filter((id) => id !== jobId)),
    readAccepted(siteId),
  ])
  const rows = shown.flatMap((entry): AuditEntry[] => {
    const reading = readingOf.get(entry.eventId)
    if (!reading) return []
    const other = swaps.find(
      (one) => one.swapId === reading.swapId && one.cylinderId !== reading.cylinderId,
    )
    const marks = accepted.get(entry.eventId) ?? []
    return [
      {
        ...entry,
        reading,
        heldKg: marks.findLast((mark) => mark.kind === 'meant')?.kg ?? reading.recordedKg,
        swappedWith: other?.serial ?? null,
        sharedWith: (entry.shared?.shares ?? []).flatMap((share) => numbers.get(share.jobId) ?? []),
        accepted: marks,
      },
    ]
  })
  const isMore = all.length > from + most
  return { rows, count: all.length, next: isMore ? (shown.at(-1)?.eventId ?? null) : null }
}

type SwapRow = Readonly<{ swapId: string; cylinderId: string; serial: string }>

async function readSwaps(swapIds: readonly string[]): Promise<SwapRow[]> {
  if (swapIds.length === 0) return []
  return db.$queryRaw<SwapRow[]>`
    SELECT DISTINCT e.swap_id AS "swapId", e.cylinder_id AS "cylinderId", c.serial
    FROM cylinder_events e JOIN cylinders c ON c.id = e.cylinder_id
    WHERE e.swap_id = ANY(${swapIds}::uuid[])`
}

async function readNumbers(jobIds: readonly string[]): Promise<ReadonlyMap<string, string>> {
  if (jobIds.length === 0) return new Map()
  const jobs = await db.job.findMany({
    where: { id: { in: [...new Set(jobIds)] } },
    select: { id: true, number: true },
  })
  return new Map(jobs.map((job) => [job.id, job.number]))
}

type AcceptedRow = Readonly<{
  findingId: string
  personName: string
  at: Date
  correction: unknown
}>

/** What people accepted at a site, by the entry that it changes. */
async function readAccepted(siteId: string): Promise<ReadonlyMap<string, AcceptedMark[]>> {
  const rows = await db.$queryRaw<AcceptedRow[]>`
    SELECT d.finding_id AS "findingId", p.name AS "personName", d.at, d.correction
    FROM finding_standings d JOIN people p ON p.id = d.person_id
    WHERE d.decision = 'accepted' AND d.site_id = ${siteId}::uuid ORDER BY d.at, d.id`
  const byEvent = new Map<string, AcceptedMark[]>()
  for (const { correction, ...by } of rows) {
    const { readings, used } = correctionSchema.parse(correction)
    const marks = [
      ...readings.map((one) => ({ ...one, kind: 'meant' as const, kg: one.contentsKg })),
      ...used.map((one) => ({ ...one, kind: 'swap_not_logged' as const })),
    ]
    for (const { eventId, kind, kg } of marks)
      byEvent.set(eventId, [...(byEvent.get(eventId) ?? []), { kind, kg, ...by }])
  }
  return byEvent
}
