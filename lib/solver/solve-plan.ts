import { brokenLimits } from '../calc/supply-plan-check'
import type { PlanModel } from '../calc/supply-plan-columns'
import { planCost } from '../calc/supply-plan-cost'
import { greedyPlan } from '../calc/supply-plan-greedy'
import { siteWithMoves } from '../calc/supply-plan-linked'
import { planModel, relaxedPlanModel } from '../calc/supply-plan-model'
import { planParts } from '../calc/supply-plan-parts'
import { isOneSite, planSite } from '../calc/supply-plan-site'
import { limitsToRelax, planOf, valuesOf } from '../calc/supply-plan-solution'
import { tripPlans } from '../calc/supply-plan-trips'
import type { BrokenLimit, PlanCost, PlanProblem, SupplyPlan } from '../calc/supply-plan-types'
import { linkBound, type Relaxed, relax, served } from './link-bound'
import { runMilps, type SolverAnswer, type SolverProgress } from './run-milp'

export type SolvedPlan = Readonly<{
  ok: true
  plan: SupplyPlan
  cost: PlanCost
  /** Whose plan it is: the solver's, or the one that was made at once. */
  by: 'solver' | 'greedy'
  greedyCost: PlanCost
  /** How far below this plan's cost a better one could still lie, as a share; null where nothing is known. */
  gap: number | null
}>
export type PlanOutcome =
  | SolvedPlan
  /** No plan keeps every limit: those that must give way, by how much. */
  | Readonly<{ ok: false; relax: readonly BrokenLimit[] }>

export type PlanTime = Readonly<{
  timeLimitS: number
  gap: number
  /** As of `runMilps`. */
  mostNodes?: number
  onProgress?: (progress: SolverProgress) => void
}>

export const USUAL_PLAN_TIME: PlanTime = { timeLimitS: 10, gap: 0.01 }
/** What the solver is given even where making plans at once took all the time. */
const LEAST_S = 0.05
/** Of what is left of the time, for plans of linked sites that are not close. */
const POLISH_SHARE = 0.25
/** A site that stands for itself is soon planned: it leaves its part of the gap to those that are not. */
const FINER = 8
/** What may move in a company that is worth a bound of its own, and time without which there is none. */
const LARGE = 500
const LEAST_BOUND_S = 0.5
/** Of the time, at most so much for own trucks' trips, so that some is left to prove how good they are. */
const TRIPS_SHARE = 0.6

/**
 * The supply plan: made at once, bettered truck by truck where a site stands for itself, then by the solver where
 * that is not close enough, for as long as it may.
 *
 * @returns for each part of the company the cheapest of the three, with what it costs; or which limits have to give way
 */
export async function solvePlan(
  problem: PlanProblem,
  time: PlanTime = USUAL_PLAN_TIME,
): Promise<PlanOutcome> {
  const started = performance.now()
  const parts = await openParts(planParts(problem), time)
  const close = gapOf(parts) <= time.gap
  const open = close ? [] : parts.filter((part) => gapOf([part]) > time.gap)
  const asks = await stillOpen(open, { parts, time, until: started + 1000 * time.timeLimitS })
  const timeLimitS = Math.max(LEAST_S, time.timeLimitS - (performance.now() - started) / 1000)
  const answers = await runMilps(
    asks.map(({ model, start }) => ({ milp: model.milp, start })),
    { ...time, timeLimitS },
  )
  const closed = parts.map((part) => {
    const at = asks.findIndex((ask) => ask.part === part)
    const ask = asks[at]
    return ask ? closePart(part, ask.model, answers[at]) : part
  })
  const stuck = closed.filter((part) => part.best === null)
  if (stuck.length > 0) return { ok: false, relax: await relaxParts(stuck, time) }
  const plan = joined(closed.flatMap((part) => (part.best ? [part.best.plan] : [])))
  return {
    ok: true,
    plan,
    cost: planCost(problem, plan),
    by: closed.some((part) => part.best?.by === 'solver') ? 'solver' : 'greedy',
    greedyCost: planCost(problem, joined(parts.map((part) => part.greedy))),
    gap: closed.some((part) => part.bound === null) ? null : gapOf(closed),
  }
}

type PartAsk = Readonly<{ part: Part; model: PlanModel; start: Float64Array | null }>

/** What the solver still has to look at, once parts that own trucks link have a bound of their own. */
async function stillOpen(
  open: readonly Part[],
  { parts, time, until }: { parts: Part[]; time: PlanTime; until: number },
): Promise<PartAsk[]> {
  const asks: PartAsk[] = []
  for (const found of open) {
    const left = Math.max(LEAST_S, (until - performance.now()) / 1000)
    const { problem, relaxed } = found
    // The one in threads of its own while the other looks at sites here.
    const [part, bound] = await Promise.all([
      polished(found, { ...time, timeLimitS: POLISH_SHARE * left }),
      relaxed && linkBound(problem, relaxed, { ...time, timeLimitS: left }),
    ])
    const known = bound === null ? part : { ...part, bound: Math.max(bound, part.bound ?? bound) }
    parts[parts.indexOf(found)] = known
    const { best } = known
    const model = relaxed?.model ?? planModel(problem)
    const start = best ? valuesOf(problem, model, best.plan) : null
    if (gapOf([known]) > time.gap) asks.push({ part: known, model, start })
  }
  return gapOf(parts) <= time.gap ? [] : asks
}

/** The sites of a linked part whose plan is not close, by their own programs, trips as they are. */
async function polished(part: Part, time: PlanTime): Promise<Part> {
  const { problem, best, relaxed } = part
  if (!best || !relaxed) return part
  const siteIds = [...new Set(problem.cells.map((cell) => cell.siteId))]
  const open = siteIds.flatMap((siteId) => {
    const site = siteWithMoves(problem, siteId, best.plan.moves)
    const found = planSite(site, time.gap)
    const isClose = found && found.cost - found.bound <= time.gap * found.cost
    return isClose ? [] : [{ siteId, site, model: planModel(site) }]
  })
  const asks = open.map(({ model }) => ({ milp: model.milp, start: null }))
  const answers = await runMilps(asks, time)
  let known = best
  for (const [i, { siteId, site, model }] of open.entries()) {
    const values = answers[i]?.values
    if (!values) continue
    const isElsewhere = (one: { siteId: string }) => one.siteId !== siteId
    const own = planOf(site, model, values)
    const plan = {
      orders: [...known.plan.orders.filter(isElsewhere), ...own.orders],
      moves: known.plan.moves,
      returns: [...known.plan.returns.filter(isElsewhere), ...own.returns],
    }
    const cost = planCost(problem, plan).total
    const isBetter = cost < known.cost && brokenLimits(problem, plan).length === 0
    if (isBetter) known = { plan, cost, by: 'solver' }
  }
  return { ...part, best: known }
}

/** A part of the company, the best plan of it so far, and the cost below which none is. */
type Part = Readonly<{
  problem: PlanProblem
  greedy: SupplyPlan
  best: Readonly<{ plan: SupplyPlan; cost: number; by: 'solver' | 'greedy' }> | null
  bound: number | null
  /** Where own trucks link many: its program without whole numbers, being solved meanwhile. */
  relaxed: Relaxed | null
}>

/** A small program the solver closes sooner by itself. */
function relaxedOf(problem: PlanProblem, { onProgress: _, ...time }: PlanTime): Relaxed | null {
  const moves = problem.routes.length * problem.days * sizesOf(problem)
  const isLarge = moves > LARGE && time.timeLimitS > LEAST_BOUND_S
  return isLarge && problem.coverIs === 'priced' ? relax(problem, time) : null
}

const sizesOf = ({ cells }: PlanProblem) => new Set(cells.map((cell) => cell.sizeId)).size

/** What a better plan could still save of all these parts, as a share of their cost; endless where that is not known. */
function gapOf(parts: readonly Part[]): number {
  let [cost, bound] = [0, 0]
  for (const part of parts) {
    if (part.best === null || part.bound === null) return Number.POSITIVE_INFINITY
    cost += part.best.cost
    bound += part.bound
  }
  return Math.max(0, cost - bound) / Math.max(1, Math.abs(cost))
}

async function openParts(problems: readonly PlanProblem[], time: PlanTime): Promise<Part[]> {
  const parts: Part[] = []
  const until = performance.now() + TRIPS_SHARE * time.timeLimitS * 1000
  for (const [i, problem] of problems.entries()) {
    time.onProgress?.({ part: i + 1, parts: problems.length, best: null, bound: null })
    const part = { ...openPart(problem, time.gap), relaxed: relaxedOf(problem, time) }
    parts.push(await settled(part, { gap: time.gap, until }))
    await served()
  }
  return parts
}

/** Where own trucks link sites: each by its suppliers' trucks, then trip by trip as long as one more pays. */
async function settled(part: Part, { gap, until }: { gap: number; until: number }): Promise<Part> {
  const { problem } = part
  if (problem.routes.length === 0 || problem.coverIs !== 'priced') return part
  let best = part.best
  for (const plan of tripPlans(problem, gap / 2)) {
    if (plan && brokenLimits(problem, plan).length === 0) {
      const cost = planCost(problem, plan).total
      if (!best || cost < best.cost) best = { plan, cost, by: 'solver' }
    }
    await served()
    if (performance.now() > until) break
  }
  return { ...part, best }
}

const joined = (plans: readonly SupplyPlan[]): SupplyPlan => ({
  orders: plans.flatMap((one) => one.orders),
  moves: plans.flatMap((one) => one.moves),
  returns: plans.flatMap((one) => one.returns),
})

function openPart(problem: PlanProblem, gap: number): Omit<Part, 'relaxed'> {
  const greedy = greedyPlan(problem)
  const atOnce =
    brokenLimits(problem, greedy).length === 0
      ? { plan: greedy, cost: planCost(problem, greedy).total, by: 'greedy' as const }
      : null
  const found = isOneSite(problem) ? planSite(problem, gap / FINER) : null
  const isBetter = found?.plan && (!atOnce || found.cost < atOnce.cost)
  return {
    problem,
    greedy,
    best: isBetter ? { plan: found.plan, cost: found.cost, by: 'solver' } : atOnce,
    bound: found ? found.bound : null,
  }
}

/** What the solver calls feasible is believed only after the plan was looked at. */
function closePart(part: Part, model: PlanModel, answer: SolverAnswer | undefined): Part {
  const proved =
    answer && answer.bound !== null && Number.isFinite(answer.bound) ? answer.bound : null
  const bound = proved === null ? part.bound : Math.max(proved, part.bound ?? proved)
  const plan = answer?.values ? planOf(part.problem, model, answer.values) : null
  if (!plan || brokenLimits(part.problem, plan).length > 0) return { ...part, bound }
  const cost = planCost(part.problem, plan).total
  if (part.best && part.best.cost < cost) return { ...part, bound }
  return { ...part, bound, best: { plan, cost, by: 'solver' } }
}

async function relaxParts(parts: readonly Part[], time: PlanTime): Promise<BrokenLimit[]> {
  const relaxed = parts.map((part) => relaxedPlanModel(part.problem))
  const asks = relaxed.map(({ milp }) => ({ milp, start: null }))
  const answers = await runMilps(asks, { timeLimitS: time.timeLimitS, gap: 0.001 })
  return parts.flatMap((part, i) => {
    const values = answers[i]?.values
    const model = relaxed[i]
    return values && model ? limitsToRelax(model, values) : brokenLimits(part.problem, part.greedy)
  })
}
