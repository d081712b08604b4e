import type { AuditSpan } from './audit-types'

/** One observation of a cylinder on an outfit, in the order of its events. */
export type StayReading = {
  cylinderId: string
  /** True where the cylinder was hung on: a new stay begins. */
  isPutOn: boolean
  /** True where it came off: the stay ends. */
  isTakenOff: boolean
  /** The job it was written down for; null where nobody said. */
  jobId: string | null
  atMs: number
  gasKg: number
  standardUncertaintyKg: number
}

/**
 * The parts of cylinders' stays that a job burned: what `auditJob` balances.
 *
 * Between two readings of one stay the gas went to the job that both name, or to the one that
 * either names where the other is silent. Two readings of different jobs have nobody between them:
 * what left then is idle loss, and no job's.
 *
 * @param readings of any cylinders, oldest first within each cylinder
 * @param shared intervals that `sharedUse` parts among jobs, and that therefore are no span of any
 * @returns spans of at least two readings; a cylinder with one reading for the job gives a span of one
 * @source definition of this library
 */
export function jobSpans(
  readings: readonly StayReading[],
  jobId: string,
  shared: readonly { cylinderId: string; fromMs: number; toMs: number }[] = [],
): AuditSpan[] {
  return staysByCylinder(readings).flatMap(({ cylinderId, stay }) => {
    const own = shared.filter((one) => one.cylinderId === cylinderId)
    const isShared = (from: StayReading, to: StayReading) =>
      own.some((one) => one.fromMs === from.atMs && one.toMs === to.atMs)
    return partsOf(stay, jobId, isShared).map((part) => toSpan(cylinderId, part))
  })
}

/** Every stay of every cylinder, from put on to taken off. */
export function staysByCylinder<T extends StayReading>(
  readings: readonly T[],
): { cylinderId: string; stay: T[] }[] {
  return [...groupByCylinder(readings)].flatMap(([cylinderId, own]) =>
    staysOf(own).map((stay) => ({ cylinderId, stay })),
  )
}

const toSpan = (cylinderId: string, readings: readonly StayReading[]): AuditSpan => ({
  cylinderId,
  readings: readings.map(({ atMs, gasKg, standardUncertaintyKg }) => ({
    atMs,
    gasKg,
    standardUncertaintyKg,
  })),
})

function staysOf<T extends StayReading>(readings: readonly T[]): T[][] {
  const stays: T[][] = []
  for (const reading of readings) {
    const open = stays.at(-1)
    if (!open || reading.isPutOn || open.at(-1)?.isTakenOff) stays.push([reading])
    else open.push(reading)
  }
  return stays
}

/** Whose the gas was between two readings of one stay; null where they name different jobs, or none. */
export const jobBetween = (from: StayReading, to: StayReading): string | null => {
  if (from.jobId !== null && to.jobId !== null) return from.jobId === to.jobId ? from.jobId : null
  return from.jobId ?? to.jobId
}

function partsOf(
  stay: readonly StayReading[],
  jobId: string,
  isShared: (from: StayReading, to: StayReading) => boolean,
): StayReading[][] {
  const parts: StayReading[][] = []
  stay.forEach((reading, index) => {
    const before = stay[index - 1]
    if (!before || jobBetween(before, reading) !== jobId || isShared(before, reading)) return
    const open = parts.at(-1)
    if (open?.at(-1) === before) open.push(reading)
    else parts.push([before, reading])
  })
  const first = stay.find((reading) => reading.jobId === jobId)
  return parts.length === 0 && first ? [[first]] : parts
}

function groupByCylinder<T extends StayReading>(readings: readonly T[]): Map<string, T[]> {
  const groups = new Map<string, T[]>()
  for (const reading of readings) {
    const own = groups.get(reading.cylinderId)
    if (own) own.push(reading)
    else groups.set(reading.cylinderId, [reading])
  }
  return groups
}

/**
 * Readings by the job that has a part in their stay: whole stays, so that `jobSpans` of each job gives what it
 * would give of the whole record, and the record is gone through once.
 *
 * @param readings of any cylinders, oldest first within each cylinder
 */
export function readingsByJob<T extends StayReading>(readings: readonly T[]): Map<string, T[]> {
  const byJob = new Map<string, T[]>()
  for (const { stay } of staysByCylinder(readings))
    for (const jobId of new Set(stay.flatMap((one) => one.jobId ?? []))) {
      const known = byJob.get(jobId)
      if (known) known.push(...stay)
      else byJob.set(jobId, [...stay])
    }
  return byJob
}
