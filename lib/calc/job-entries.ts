import type { JobAudit } from './audit-types'
import type { SharedUse } from './shared-use'
import { quadrature } from './stats'

/** An observation of a cylinder, by its entry in the record. */
export type EntryReading = {
  eventId: string
  cylinderId: string
  atMs: number
  gasKg: number
  standardUncertaintyKg: number
}

/** What one entry of the record put into a job's use. */
export type JobEntry = {
  eventId: string
  cylinderId: string
  /** What left the cylinder since its entry before, as far as this job burned it, kg; null where a part of the job begins. */
  tookKg: number | null
  /** Doubt that the entry brings into the job's use, kg; nought for one that stands between two others. */
  doubtKg: number
  /** The use ends here that several jobs shared: all of them with their parts. */
  shared: SharedUse | null
}

type Made = { took: number | null; doubts: number[]; shared: SharedUse | null }

/**
 * Every entry that a job's use was made of, with what each put into it: the parts add up to the use, and their
 * doubts in quadrature to its doubt. An entry between two others of one stay cancels: it moves gas from one interval to
 * the next and brings no doubt.
 *
 * @param audit of the job, one gas
 * @param readings that it was made from, oldest first within each cylinder
 * @param shared intervals of those cylinders in which the job had a part
 * @returns entries by time, in a swap what came off before what went on; readings that no part of the job reaches are left out
 * @source definition of this library; sums in quadrature, GUM 5.1.2
 */
export function jobEntries(
  audit: Pick<JobAudit, 'spans'>,
  readings: readonly EntryReading[],
  shared: readonly SharedUse[],
): JobEntry[] {
  const made = new Map<string, Made>()
  const at = (cylinderId: string, atMs: number): Made => {
    const key = `${cylinderId} ${atMs}`
    const known = made.get(key) ?? { took: null, doubts: [], shared: null }
    made.set(key, known)
    return known
  }
  const uOf = new Map(
    readings.map((one) => [`${one.cylinderId} ${one.atMs}`, one.standardUncertaintyKg]),
  )
  for (const { cylinderId, intervals } of audit.spans) {
    const [first, last] = [intervals[0], intervals.at(-1)]
    if (!first || !last) continue
    const parted = shared.find(
      (one) =>
        one.cylinderId === cylinderId && one.fromMs === first.fromMs && one.toMs === first.toMs,
    )
    for (const { fromMs, toMs, usageKg } of intervals) {
      at(cylinderId, fromMs)
      const end = at(cylinderId, toMs)
      end.took = (end.took ?? 0) + usageKg
    }
    if (parted) {
      const end = at(cylinderId, last.toMs)
      end.shared = parted
      end.doubts.push(first.standardUncertaintyKg)
    } else
      for (const ms of [first.fromMs, last.toMs])
        at(cylinderId, ms).doubts.push(uOf.get(`${cylinderId} ${ms}`) ?? 0)
  }
  return readings
    .flatMap((reading) => {
      const { eventId, cylinderId, atMs } = reading
      const key = `${cylinderId} ${atMs}`
      const own = made.get(key)
      if (!own) return []
      // Two entries of one instant count once.
      made.delete(key)
      const entry = {
        eventId,
        cylinderId,
        tookKg: own.took,
        doubtKg: quadrature(own.doubts),
        shared: own.shared,
      }
      return [{ atMs, entry }]
    })
    .sort(
      (a, b) =>
        a.atMs - b.atMs ||
        Number(a.entry.tookKg === null) - Number(b.entry.tookKg === null) ||
        a.entry.cylinderId.localeCompare(b.entry.cylinderId),
    )
    .map(({ entry }) => entry)
}
