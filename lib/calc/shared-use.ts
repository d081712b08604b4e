import { allocate } from './allocation'
import { jobBetween, type StayReading, staysByCylinder } from './job-spans'
import { quadrature } from './stats'

/** Work that was logged on an outfit, with what it should have taken of the gas, kg. */
export type SharedWork = {
  outfitId: string | null
  jobId: string
  fromMs: number
  toMs: number
  expectedKg: number
  standardUncertaintyKg: number
}

export type UseShare = { jobId: string; usageKg: number; standardUncertaintyKg: number }

/** Gas that left a cylinder between two readings while several jobs worked from it. */
export type SharedUse = {
  cylinderId: string
  fromMs: number
  toMs: number
  usageKg: number
  standardUncertaintyKg: number
  /** The jobs' parts, which add up to the use after; by job id. */
  shares: UseShare[]
}

/** A log of no stated doubt is believed to this share. Own choice. */
const LEAST_RELATIVE_U = 0.05

/** Whether a stay names more than one job: only there anything can be shared. */
export const namesSeveralJobs = (stay: readonly StayReading[]): boolean =>
  new Set(stay.flatMap((one) => one.jobId ?? [])).size > 1

/**
 * Use that several jobs share, parted by what each one's work should have taken.
 *
 * An interval between two readings is shared where the stay names several jobs and the work of more than one of
 * them fell into it, or where its readings name different jobs and any of them worked. A log that reaches over
 * a reading counts by the time of it that lies within.
 *
 * @param readings of any cylinders on outfits, oldest first within each cylinder
 * @param works logged on those outfits, by any job
 * @returns shared intervals; each one's shares add up to what the readings say, moved by the doubt of both
 * @source `allocate`
 */
export function sharedUse(
  readings: readonly (StayReading & { outfitId: string | null })[],
  works: readonly SharedWork[],
): SharedUse[] {
  return staysByCylinder(readings).flatMap(({ cylinderId, stay }) => {
    if (!namesSeveralJobs(stay)) return []
    const jobs = new Set(stay.flatMap((one) => one.jobId ?? []))
    const own = works.filter((work) => jobs.has(work.jobId))
    return stay.slice(1).flatMap((to, i): SharedUse[] => {
      const from = stay[i]
      return from ? shareOf(cylinderId, from, to, own) : []
    })
  })
}

type OutfitReading = StayReading & { outfitId: string | null }

function shareOf(
  cylinderId: string,
  from: OutfitReading,
  to: OutfitReading,
  works: readonly SharedWork[],
): SharedUse[] {
  const expected = expectedByJob(from, to, works)
  const isNobodys = jobBetween(from, to) === null
  if (expected.length < (isNobodys ? 1 : 2)) return []
  const usageKg = Math.max(0, from.gasKg - to.gasKg)
  const u = quadrature([from.standardUncertaintyKg, to.standardUncertaintyKg])
  const { parts } = allocate(
    expected.map(({ usageKg: value, standardUncertaintyKg }) => ({
      value,
      variance: standardUncertaintyKg ** 2,
    })),
    { value: usageKg, variance: u ** 2 },
  )
  return [
    {
      cylinderId,
      fromMs: from.atMs,
      toMs: to.atMs,
      usageKg,
      standardUncertaintyKg: u,
      shares: expected.map(({ jobId }, i) => ({
        jobId,
        usageKg: parts[i]?.value ?? 0,
        standardUncertaintyKg: Math.sqrt(parts[i]?.variance ?? 0),
      })),
    },
  ]
}

/** What each job's work within the interval should have taken; logs of one job err together. */
function expectedByJob(
  from: OutfitReading,
  to: OutfitReading,
  works: readonly SharedWork[],
): UseShare[] {
  const byJob = new Map<string, UseShare>()
  for (const work of works) {
    const isHere =
      work.outfitId === null || from.outfitId === null || work.outfitId === from.outfitId
    const withinMs = Math.min(work.toMs, to.atMs) - Math.max(work.fromMs, from.atMs)
    if (!isHere || withinMs <= 0 || work.expectedKg <= 0) continue
    const part = withinMs / (work.toMs - work.fromMs)
    const known = byJob.get(work.jobId)
    const u = Math.max(work.standardUncertaintyKg, LEAST_RELATIVE_U * work.expectedKg)
    byJob.set(work.jobId, {
      jobId: work.jobId,
      usageKg: (known?.usageKg ?? 0) + part * work.expectedKg,
      standardUncertaintyKg: (known?.standardUncertaintyKg ?? 0) + part * u,
    })
  }
  return [...byJob.values()].sort((a, b) => a.jobId.localeCompare(b.jobId))
}
