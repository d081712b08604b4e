import 'server-only'
import type { FactorObservation } from '@/lib/calc/crew-factor'
import { doneShare } from '@/lib/calc/done-share'
import { correctStays } from '@/lib/calc/gas-corrections'
import { groupBy } from '@/lib/calc/hypotheses-stretches'
import { accountFor, restDeviations } from '@/lib/calc/job-account'
import { readingsByJob } from '@/lib/calc/job-spans'
import type { Interval90 } from '@/lib/calc/source'
import { db } from '../client'
import { type CrewUsed, crewsLearned, learnCrewFactors } from '../crew-factors'
import { readDonePieces } from '../gas-audit-rows'
import { sharedAmong } from '../gas-audit-shared'
import { type GasSide, sidesOf } from '../gas-audit-sides'
import type { SiteRecord } from './trail'

const JOBS_AT_ONCE = 500
const DAY_MS = 86_400_000

export type Figure = Readonly<{
  jobId: string
  side: GasSide
  siteId: string
  crewId: string | null
  gasId: string
  endedOn: string
  isDone: boolean
  usage: Interval90
  estimate: Interval90
  tableFactor: number | null
  weightKg: number
}>

type JobRow = Readonly<{ id: string; crewId: string | null; endedOn: string; isDone: boolean }>

const readJobs = (jobIds: readonly string[]): Promise<JobRow[]> =>
  db.$queryRaw<JobRow[]>`
    SELECT id, crew_id AS "crewId", planned_end::text AS "endedOn", state = 'done' AS "isDone"
    FROM jobs WHERE id = ANY(${jobIds}::uuid[])`

const STAY_KINDS: ReadonlySet<string> = new Set(['put_on', 'found_on', 'read', 'taken_off'])

/** Readings of cylinders on outfits, as accepted corrections leave them. */
function stayReadings({ events, cylinders, corrections }: SiteRecord) {
  const gasOf = new Map(
    [...cylinders].flatMap(([gasId, own]) => own.map((one) => [one.id, gasId] as const)),
  )
  const readings = events.flatMap((event) => {
    const gasId = gasOf.get(event.cylinderId)
    if (!gasId || event.outfitId === null || event.contentsKg === null) return []
    if (!STAY_KINDS.has(event.kind)) return []
    const { id, cylinderId, outfitId, jobId, atMs, kind, contentsKg, contentsUKg } = event
    return [
      {
        eventId: id,
        cylinderId,
        outfitId,
        jobId,
        atMs,
        gasId,
        isPutOn: kind === 'put_on' || kind === 'found_on',
        isTakenOff: kind === 'taken_off',
        gasKg: contentsKg,
        standardUncertaintyKg: contentsUKg ?? 0,
      },
    ]
  })
  return correctStays(readings, corrections)
}

/** What each of a site's jobs used beside the estimate of what was cut, of both gases. */
export async function figuresOf(record: SiteRecord): Promise<Figure[]> {
  const all = stayReadings(record)
  const byJob = readingsByJob(all)
  const shared = sharedAmong(all, record.logs, record)
  const jobIds = [...byJob.keys()]
  const [jobs, pieces] = await Promise.all([readJobs(jobIds), readDonePieces(jobIds)])
  const piecesOf = new Map(groupBy(pieces, (row) => row.jobId))
  const cutsOf = new Map(groupBy(record.cuts, (cut) => cut.jobId))
  const estimateOf = new Map(record.estimates.map((row) => [row.job_id, row]))
  const sharing = new Set(shared.flatMap((one) => one.shares.map(({ jobId }) => jobId)))
  return jobs.flatMap((job) => {
    const estimate = estimateOf.get(job.id)
    const done = doneShare(cutsOf.get(job.id) ?? [], piecesOf.get(job.id) ?? [])
    const readings = byJob.get(job.id) ?? []
    const sides = sidesOf(job.id, { estimate, done, readings, shared })
    return (['oxygen', 'fuel'] as const).flatMap((side): Figure[] => {
      const audit = sides[side]
      if (!audit) return []
      const { id: jobId, crewId, endedOn, isDone } = job
      return [
        {
          jobId,
          side,
          siteId: record.siteId,
          crewId,
          gasId: audit.gas,
          endedOn,
          isDone,
          usage: audit.usage,
          estimate: audit.estimate,
          tableFactor: estimate?.crew_factor ?? null,
          // What was parted by estimates teaches nothing about estimates.
          weightKg: sharing.has(job.id) ? 0 : audit.factorWeightKg,
        },
      ]
    })
  })
}

/** How far the use lies from the estimate and what its crew is known to take, in their deviations. */
function deviationsOf(figure: Figure, learned: CrewUsed | null): number {
  const { usage, estimate, tableFactor } = figure
  // An estimate that went by a crew's factor has it in it already.
  const factor = tableFactor === null ? learned : null
  return restDeviations(accountFor({ usage, estimate, factor }))
}

/** What crews are learned from: done jobs, by oxygen, against the table alone. */
const observationsOf = (figures: readonly Figure[], now: Date): FactorObservation[] =>
  figures.flatMap(({ side, isDone, siteId, crewId, usage, estimate, endedOn, ...figure }) => {
    if (side !== 'oxygen' || !isDone || crewId === null) return []
    if (usage.mean <= 0 || figure.weightKg <= 0) return []
    const ratio = (usage.mean / estimate.mean) * (figure.tableFactor ?? 1)
    const ageDays = Math.max(0, (now.getTime() - Date.parse(endedOn)) / DAY_MS)
    return [{ siteId, crewId, ratio, weight: figure.weightKg, ageDays }]
  })

/** Learns how crews run from all these jobs, and keeps each job's figures over those of the look before. */
export async function keepFigures(
  figures: readonly Figure[],
  { runId, now }: Readonly<{ runId: string; now: Date }>,
): Promise<void> {
  await learnCrewFactors(observationsOf(figures, now))
  const learned = await crewsLearned(db)
  for (let from = 0; from < figures.length; from += JOBS_AT_ONCE)
    await keep(runId, figures.slice(from, from + JOBS_AT_ONCE), learned)
}

async function keep(
  runId: string,
  figures: readonly Figure[],
  learned: (siteId: string, crewId: string | null) => CrewUsed | null,
): Promise<void> {
  const rows = figures.map((figure) => {
    const { usage, estimate, jobId, side, siteId, crewId, gasId, endedOn, isDone } = figure
    const deviations = deviationsOf(figure, learned(siteId, crewId))
    return {
      ...{ job_id: jobId, side, site_id: siteId, crew_id: crewId, run_id: runId, gas_id: gasId },
      ...{ ended_on: endedOn, is_done: isDone, table_factor: figure.tableFactor },
      ...{ usage_kg: usage.mean, usage_u_kg: usage.standardUncertainty },
      ...{ estimate_kg: estimate.mean, estimate_u_kg: estimate.standardUncertainty },
      ...{ weight_kg: figure.weightKg, deviations, distance: Math.abs(deviations) },
    }
  })
  await db.$executeRaw`
    INSERT INTO job_figures
    SELECT (jsonb_populate_record(NULL::job_figures, r)).* FROM jsonb_array_elements(${JSON.stringify(rows)}::jsonb) AS r
    ON CONFLICT (job_id, side) DO UPDATE SET
      site_id = excluded.site_id, crew_id = excluded.crew_id, run_id = excluded.run_id, gas_id = excluded.gas_id,
      ended_on = excluded.ended_on, is_done = excluded.is_done, usage_kg = excluded.usage_kg, usage_u_kg = excluded.usage_u_kg,
      estimate_kg = excluded.estimate_kg, estimate_u_kg = excluded.estimate_u_kg, table_factor = excluded.table_factor,
      weight_kg = excluded.weight_kg, deviations = excluded.deviations, distance = excluded.distance`
}
