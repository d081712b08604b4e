import 'server-only'
import { type StayReading, staysByCylinder } from '@/lib/calc/job-spans'
import { namesSeveralJobs, type SharedUse, type SharedWork, sharedUse } from '@/lib/calc/shared-use'
import { db } from './client'
import {
  type CutShareRow,
  type JobEstimateRow,
  readCutShares,
  readJobEstimates,
} from './gas-audit-rows'

/** Work logged by any job, as the look and the pages read it. */
export type SharedLog = Readonly<{
  outfitId: string | null
  jobId: string | null
  cutId: string | null
  pieces: number
  fromMs: number
  toMs: number
}>
type Known = Readonly<{ estimates: readonly JobEstimateRow[]; cuts: readonly CutShareRow[] }>
type OutfitReading = StayReading & Readonly<{ outfitId: string | null; gasId: string }>

const MOST_LOGS = 5_000

/** What each log should have taken of a gas by its job's estimate, and how sure that estimate was. */
function worksOf(
  logs: readonly SharedLog[],
  { estimates, cuts }: Known,
  gasId: string,
): SharedWork[] {
  const estimateOf = new Map(estimates.map((row) => [row.job_id, row]))
  const cutOf = new Map(cuts.map((cut) => [cut.cutId, cut]))
  const isOxygen = gasId === 'oxygen'
  return logs.flatMap(({ outfitId, jobId, cutId, pieces, fromMs, toMs }): SharedWork[] => {
    const estimate = estimateOf.get(jobId ?? '')
    const cut = cutOf.get(cutId ?? '')
    if (jobId === null || !estimate || !cut || cut.count === 0 || toMs <= fromMs) return []
    if (!isOxygen && estimate.fuel !== gasId) return []
    const expectedKg = (pieces * (isOxygen ? cut.oxygenKg : cut.fuelKg)) / cut.count
    const relative = isOxygen
      ? estimate.oxygen_u_kg / estimate.oxygen_kg
      : estimate.fuel_u_kg / estimate.fuel_kg
    const standardUncertaintyKg = expectedKg * (Number.isFinite(relative) ? relative : 0)
    return [{ outfitId, jobId, fromMs, toMs, expectedKg, standardUncertaintyKg }]
  })
}

/** Shared intervals of every gas among these readings, with what each job's work took of them. */
export function sharedAmong(
  readings: readonly OutfitReading[],
  logs: readonly SharedLog[],
  known: Known,
): SharedUse[] {
  return [...new Set(readings.map((one) => one.gasId))].flatMap((gasId) =>
    sharedUse(
      readings.filter((one) => one.gasId === gasId),
      worksOf(logs, known, gasId),
    ),
  )
}

const readLogs = (jobIds: readonly string[]): Promise<SharedLog[]> =>
  db.$queryRaw<SharedLog[]>`
    SELECT l.outfit_id AS "outfitId", l.job_id AS "jobId", l.cut_id AS "cutId", coalesce(l.pieces, 0) AS pieces,
           kerf_ms(l.from_at)::float8 AS "fromMs", kerf_ms(l.to_at)::float8 AS "toMs"
    FROM hot_work_logs l
    WHERE l.job_id = ANY(${jobIds}::uuid[]) AND NOT EXISTS (SELECT 1 FROM hot_work_logs o WHERE o.corrects_id = l.id)
    ORDER BY l.from_at, l.id LIMIT ${MOST_LOGS}`

/** The same where the logs are still to be read; nothing is where no stay names several jobs. */
export async function readSharedUse(
  readings: readonly OutfitReading[],
  known: Known,
): Promise<SharedUse[]> {
  const several = staysByCylinder(readings).filter(({ stay }) => namesSeveralJobs(stay))
  const jobIds = [...new Set(several.flatMap(({ stay }) => stay.flatMap((one) => one.jobId ?? [])))]
  if (jobIds.length === 0) return []
  const has = new Set(known.estimates.map((row) => row.job_id))
  const [logs, others] = await Promise.all([
    readLogs(jobIds),
    readJobEstimates(jobIds.filter((id) => !has.has(id))),
  ])
  const cuts = await readCutShares(others.map((row) => row.estimate_id))
  return sharedAmong(
    several.flatMap(({ stay }) => stay),
    logs,
    { estimates: [...known.estimates, ...others], cuts: [...known.cuts, ...cuts] },
  )
}
