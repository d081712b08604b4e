import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { z } from 'zod'
import { auditJob } from '@/lib/calc/audit'
import { crewFactors, type Factor, type FactorObservation } from '@/lib/calc/crew-factor'
import { doneShare } from '@/lib/calc/done-share'
import { jobSpans } from '@/lib/calc/job-spans'
import { db } from './client'
import {
  type AuditedReading,
  readCutShares,
  readDonePieces,
  readJobEstimates,
  readJobReadings,
} from './gas-audit-rows'
import type { Tx } from './tx'

/** Jobs that are learned from: so many of each crew at each site, the latest, and no more in all. */
const JOBS_A_CREW = 6
const MOST_JOBS = 90
/** So few that their readings all fit into what is read at once. */
const JOBS_AT_ONCE = 15
const LEARN_EVERY_HOURS = 6
const DAY_MS = 86_400_000

const factorSchema = z.object({ mean: z.number(), u: z.number(), jobs: z.number() })
/** With how it came about: what was learned before that was kept has only the factor. */
const drawnSchema = factorSchema.extend({
  own: z.number().optional(),
  credibility: z.number().optional(),
})
const learnedSchema = z.object({
  company: factorSchema.nullable(),
  sites: z.record(z.string(), drawnSchema).optional(),
  crews: z.record(z.string(), drawnSchema),
})
type Learned = z.infer<typeof learnedSchema>

/** How a list's crew runs against the table, and whose record that is. */
export type CrewUsed = Readonly<{
  mean: number
  standardUncertainty: number
  jobs: number
  /** Of the crew itself; of all crews where it has no record yet. */
  isOwn: boolean
}>

/** A crew is learned of at each site apart: steel, scaffold and weather are the site's. */
const keyOf = (siteId: string, crewId: string) => `${siteId} ${crewId}`

type DoneJob = Readonly<{ id: string; siteId: string; crewId: string; ageDays: number }>

/** Done jobs that were cut, the latest of each crew first. */
function readDoneJobs(): Promise<DoneJob[]> {
  return db.$queryRaw<DoneJob[]>`
    SELECT id, site_id AS "siteId", crew_id AS "crewId",
           greatest(0, extract(epoch FROM kerf_now() - planned_end) * 1000 / ${DAY_MS})::float8 AS "ageDays"
    FROM (
      SELECT *, row_number() OVER (PARTITION BY site_id, crew_id ORDER BY planned_end DESC, id DESC) AS nth
      FROM jobs WHERE state = 'done' AND crew_id IS NOT NULL) AS j
    WHERE nth <= ${JOBS_A_CREW} ORDER BY nth, planned_end DESC, id DESC LIMIT ${MOST_JOBS}`
}

/** What each job used of oxygen over what the table alone said of the cuts that were done. */
async function readObservations(): Promise<FactorObservation[]> {
  const jobs = await readDoneJobs()
  const found: FactorObservation[] = []
  for (let from = 0; from < jobs.length; from += JOBS_AT_ONCE)
    found.push(...(await observationsOf(jobs.slice(from, from + JOBS_AT_ONCE))))
  return found
}

async function observationsOf(jobs: readonly DoneJob[]): Promise<FactorObservation[]> {
  const jobIds = jobs.map((job) => job.id)
  const [readings, estimates, pieces] = await Promise.all([
    readJobReadings(jobIds),
    readJobEstimates(jobIds),
    readDonePieces(jobIds),
  ])
  const cuts = await readCutShares(estimates.map((row) => row.estimate_id))
  const oxygen = readings.filter((reading) => reading.gasId === 'oxygen')
  return jobs.flatMap((job): FactorObservation[] => {
    const estimate = estimates.find((row) => row.job_id === job.id)
    const share = doneShare(
      cuts.filter((cut) => cut.jobId === job.id),
      pieces.filter((row) => row.jobId === job.id),
    )
    const audit = estimate ? auditOf(job.id, oxygen, estimate, share?.oxygen ?? 1) : null
    if (!estimate || !audit) return []
    const { siteId, crewId, ageDays } = job
    // An estimate that had a crew's factor in it is taken back to the table first.
    const ratio = audit.ratio.mean * (estimate.crew_factor ?? 1)
    return [{ siteId, crewId, ageDays, ratio, weight: audit.factorWeightKg }]
  })
}

function auditOf(
  jobId: string,
  readings: readonly AuditedReading[],
  estimate: Readonly<{ oxygen_kg: number; oxygen_u_kg: number }>,
  share: number,
) {
  const spans = jobSpans(readings, jobId)
  if (share <= 0 || !spans.some((span) => span.readings.length > 1)) return null
  const outcome = auditJob({
    gas: 'oxygen',
    spans,
    estimate: {
      meanKg: estimate.oxygen_kg * share,
      standardUncertaintyKg: estimate.oxygen_u_kg * share,
    },
  })
  return outcome.ok && outcome.ratio.mean > 0 && outcome.factorWeightKg > 0 ? outcome : null
}

const drawn = (one: Factor) => ({
  mean: one.factor,
  u: one.standardUncertainty,
  jobs: one.observations,
  own: one.ownRatio,
  credibility: one.credibility,
})

/**
 * Learns how crews run from what done jobs used, and keeps it beside what was learned before.
 *
 * A look through the record hands over all done jobs; without one the latest of each crew are read.
 */
export async function learnCrewFactors(observed?: readonly FactorObservation[]): Promise<Learned> {
  const observations = observed ?? (await readObservations())
  const found = crewFactors(observations)
  const learned: Learned = found.isLearned
    ? {
        company: {
          mean: found.company.factor,
          u: found.company.standardUncertainty,
          jobs: observations.length,
        },
        sites: Object.fromEntries(found.sites.map((site) => [site.siteId, drawn(site)])),
        crews: Object.fromEntries(
          found.crews.map((crew) => [keyOf(crew.siteId, crew.crewId), drawn(crew)]),
        ),
      }
    : { company: null, crews: {} }
  await db.crewFactors.create({
    data: { id: uuidv7(), jobs: observations.length, factors: learned },
    select: { id: true },
  })
  return learned
}

/** Learns where nothing was learned for some hours. */
export async function learnWhenDue(): Promise<void> {
  const [row] = await db.$queryRaw<{ isDue: boolean }[]>`
    SELECT coalesce(max(learned_at) < kerf_now() - make_interval(hours => ${LEARN_EVERY_HOURS}), true) AS "isDue" FROM crew_factors`
  if (row?.isDue ?? true) await learnCrewFactors()
}

type CrewOf = (siteId: string, crewId: string | null) => CrewUsed | null

/** What was last learned, by crew; a crew without a record goes by all crews, and null is the table as it stands. */
export async function crewsLearned(client: Tx): Promise<CrewOf> {
  const row = await client.crewFactors.findFirst({
    orderBy: { learnedAt: 'desc' },
    select: { factors: true },
  })
  return crewsOf(row?.factors ?? null)
}

/** The same from what is kept; null where nothing was learned. */
export function crewsOf(factors: unknown): CrewOf {
  const learned = factors === null ? null : learnedSchema.parse(factors)
  return (siteId, crewId) => {
    const own = crewId ? learned?.crews[keyOf(siteId, crewId)] : undefined
    const found = own ?? learned?.company
    return found
      ? {
          mean: found.mean,
          standardUncertainty: found.u,
          jobs: found.jobs,
          isOwn: own !== undefined,
        }
      : null
  }
}
