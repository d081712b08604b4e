import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { z } from 'zod'
import { type Backtest, type BacktestPlan, backtestUse } from '@/lib/calc/backtest'
import { type LikeSite, priorFromSites, type SiteTraits, siteLikeness } from '@/lib/calc/cold-start'
import { DEMAND_CLASSES } from '@/lib/calc/demand-class'
import { DEMAND_METHODS } from '@/lib/calc/demand-methods'
import { BOUND_DAYS, classRules } from '@/lib/calc/learned-demand'
import { pastWindows, type UseHistory } from '@/lib/calc/past-windows'
import { db } from './client'
import { readForecastRows } from './forecast-rows'
import { bySite, gasesOf, historyOf, mainSize, usableKgOf } from './forecast-series'

/** A week at a time, what a truck covers; chosen from the windows before, judged on the last. */
export const BACKTEST: BacktestPlan = {
  horizon: BOUND_DAYS,
  origins: 12,
  learnFrom: 24,
  warmUp: 14,
  bound: 'ordered',
}
/** Days of history with which the first origin has windows to learn from. */
const LEAST_DAYS = BACKTEST.warmUp + 2 * BACKTEST.horizon + BACKTEST.origins + 1

const SITES_AT_ONCE = 20
const MOST_SITES = 400
const LEARN_EVERY_HOURS = 12
/** With fewer demands than this a series starts from sites like it. */
const LEAST_DEMANDS = 2
/**
 * Chances of beginning 0, 1, 2 … days late before jobs of one's own have been seen, and for how many jobs they
 * count: judgement, no source.
 */
const USUAL_LATE = [0.7, 0.12, 0.07, 0.04, 0.03, 0.02, 0.01, 0.01]
const USUAL_LATE_JOBS = 8

const priorSchema = z.object({ cylinders: z.number(), days: z.number(), sites: z.number() })
const ruleSchema = z.object({
  demandClass: z.enum(DEMAND_CLASSES),
  method: z.enum(DEMAND_METHODS),
  score: z.number().nullable(),
  windows: z.number(),
  /** On windows that it was not learned from. Null while there are none. */
  judged: z
    .object({
      windows: z.number(),
      bias: z.number().nullable(),
      held: z.object({ share: z.number(), low: z.number(), high: z.number() }),
    })
    .nullable(),
})
const learnedSchema = z.object({
  rules: z.array(ruleSchema),
  priors: z.record(z.string(), priorSchema),
  /** By gas, of all sites alike: for a site that was not there yet when this was learned. */
  fleet: z.record(z.string(), priorSchema),
  lateChances: z.array(z.number()),
  lateJobs: z.number(),
})
export type LearnedRule = z.infer<typeof ruleSchema>
export type LearnedDemand = z.infer<typeof learnedSchema>

const NOTHING: LearnedDemand = {
  rules: [],
  priors: {},
  fleet: {},
  lateChances: USUAL_LATE,
  lateJobs: 0,
}

export const priorKey = (siteId: string, gasId: string) => `${siteId} ${gasId}`

type Series = Readonly<{ siteId: string; gasId: string; history: UseHistory }>

/** What each gas of each site used, day by day; the caller has settled that the viewer may see these sites. */
export async function readSeries(siteIds: readonly string[]): Promise<Series[]> {
  const found: Series[] = []
  for (let from = 0; from < siteIds.length; from += SITES_AT_ONCE) {
    const part = siteIds.slice(from, from + SITES_AT_ONCE)
    const rowsOf = bySite(await readForecastRows(part))
    for (const siteId of part) {
      const rows = rowsOf(siteId)
      // What was used and is gone is history all the same.
      const used = rows.emptied.map((row) => row.gas_id)
      for (const gasId of new Set([...gasesOf(rows), ...used])) {
        const size = mainSize(rows, gasId)
        const usableKg = size ? usableKgOf(size) : 0
        if (usableKg > 0) found.push({ siteId, gasId, history: historyOf(rows, gasId, usableKg) })
      }
    }
  }
  return found
}

type TraitsRow = SiteTraits & Readonly<{ id: string }>

/** What is known of each site before its first cut. */
const readTraits = () =>
  db.$queryRaw<TraitsRow[]>`
    SELECT s.id,
           coalesce((SELECT o.fuel_gas_id FROM outfits o WHERE o.site_id = s.id GROUP BY 1 ORDER BY count(*) DESC, 1 LIMIT 1), '') AS fuel,
           coalesce((SELECT l.process FROM cut_lists l WHERE l.site_id = s.id GROUP BY 1 ORDER BY count(*) DESC, 1 LIMIT 1), 'hand') AS process,
           (SELECT count(DISTINCT m.person_id) FROM crews c JOIN crew_members m ON m.crew_id = c.id
            WHERE c.site_id = s.id AND m.to_date IS NULL)::int AS "crewPeople",
           coalesce((SELECT bool_or((a.facts ->> 'indoors')::boolean) FROM areas a WHERE a.site_id = s.id), false) AS indoors
    FROM sites s ORDER BY s.created_at, s.id LIMIT ${MOST_SITES}`

/** By how many days jobs of the last half year began after their planned day. */
const readLateness = () =>
  db.$queryRaw<{ days: number; jobs: number }[]>`
    SELECT least(${USUAL_LATE.length - 1}, greatest(0, f.day - j.planned_start))::int AS days, count(*)::int AS jobs
    FROM jobs j JOIN sites s ON s.id = j.site_id
    JOIN LATERAL (SELECT (min(h.from_at) AT TIME ZONE s.zone)::date AS day FROM hot_work_logs h WHERE h.job_id = j.id) f ON f.day IS NOT NULL
    WHERE j.planned_start > (kerf_now() - interval '180 days')::date GROUP BY 1`

async function lateChances() {
  const rows = await readLateness()
  const jobs = rows.reduce((sum, row) => sum + row.jobs, 0)
  const chances = USUAL_LATE.map((usual, days) => {
    const seen = rows.find((row) => row.days === days)?.jobs ?? 0
    return (seen + USUAL_LATE_JOBS * usual) / (jobs + USUAL_LATE_JOBS)
  })
  return { lateChances: chances, lateJobs: jobs }
}

const usedBy = ({ history }: Series): Omit<LikeSite, 'likeness'> => ({
  cylinders: history.unplanned.reduce((sum, one) => sum + one, 0),
  days: Math.max(1, history.unplanned.length),
})

/** Where series with hardly any history start, and where a site starts that is not there yet. */
function priorsOf(series: readonly Series[], traits: readonly TraitsRow[]) {
  const traitsOf = new Map(traits.map((row) => [row.id, row]))
  const likeness = (a: string, b: string) => {
    const [one, other] = [traitsOf.get(a), traitsOf.get(b)]
    return one && other ? siteLikeness(one, other) : 0
  }
  const gasIds = [...new Set(series.map((one) => one.gasId))]
  const fleet = gasIds.map((gasId) => {
    const same = series.filter((one) => one.gasId === gasId && one.history.unplanned.length > 0)
    return [gasId, priorFromSites(same.map((one) => ({ ...usedBy(one), likeness: 1 })))] as const
  })
  const young = series.filter(
    ({ history }) => history.unplanned.filter((count) => count > 0).length < LEAST_DEMANDS,
  )
  const priors = young.map((one) => {
    const others = series.filter(
      (other) =>
        other.gasId === one.gasId &&
        other.siteId !== one.siteId &&
        other.history.unplanned.length > 0,
    )
    const like = others.map((other) => ({
      ...usedBy(other),
      likeness: likeness(one.siteId, other.siteId),
    }))
    return [priorKey(one.siteId, one.gasId), priorFromSites(like)] as const
  })
  return { fleet: Object.fromEntries(fleet), priors: Object.fromEntries(priors) }
}

/** How forecasts of these series would have done; null where none is long enough to tell. */
export function judgedOf(series: readonly Series[]): Backtest | null {
  const histories = series.map(({ history }) => history)
  const longest = Math.max(0, ...histories.map(({ came }) => came.length))
  return longest < LEAST_DAYS ? null : backtestUse(histories, BACKTEST)
}

function rulesOf(series: readonly Series[]): LearnedRule[] {
  const rules = classRules(
    series.flatMap(({ history }) =>
      pastWindows(history, BOUND_DAYS).slice(BACKTEST.warmUp).slice(-BACKTEST.learnFrom),
    ),
  )
  const judged = judgedOf(series)?.byClass ?? []
  return rules.map((rule) => {
    const row = judged.find((one) => one.demandClass === rule.demandClass)
    const held = row?.coverage[1]
    // A series with hardly any use goes by the rate whichever method did best.
    if (rule.demandClass === 'sparse') return { ...rule, judged: null }
    return {
      ...rule,
      judged: row && held ? { windows: row.windows, bias: row.bias, held } : null,
    }
  })
}

/** Learns from all sites how demand is forecast, and keeps it beside what was learned before. */
export async function learnDemandOfSites(): Promise<LearnedDemand> {
  const traits = await readTraits()
  const series = await readSeries(traits.map((row) => row.id))
  const learned: LearnedDemand = {
    rules: rulesOf(series),
    ...priorsOf(series, traits),
    ...(await lateChances()),
  }
  await db.learnedDemand.create({
    data: { id: uuidv7(), series: series.length, learned },
    select: { id: true },
  })
  return learned
}

/** Learns where nothing was learned for some hours. */
export async function learnDemandWhenDue(): Promise<void> {
  const [row] = await db.$queryRaw<{ isDue: boolean }[]>`
    SELECT coalesce(max(learned_at) < kerf_now() - make_interval(hours => ${LEARN_EVERY_HOURS}), true) AS "isDue" FROM learned_demand`
  if (row?.isDue ?? true) await learnDemandOfSites()
}

/** What was last learned, as it is kept; where nothing was yet, every series goes by its own rate. */
export const readLearned = (kept: unknown): LearnedDemand =>
  kept === null ? NOTHING : learnedSchema.parse(kept)
