import { brokenLimits } from '../calc/supply-plan-check'
import { planCost } from '../calc/supply-plan-cost'
import { greedyPlan } from '../calc/supply-plan-greedy'
import { type PlanModel, planModel, relaxedPlanModel } from '../calc/supply-plan-model'
import { planParts } from '../calc/supply-plan-parts'
import { limitsToRelax, planOf, valuesOf } from '../calc/supply-plan-solution'
import type { BrokenLimit, PlanCost, PlanProblem, SupplyPlan } from '../calc/supply-plan-types'
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
  onProgress?: (progress: SolverProgress) => void
}>

export const USUAL_PLAN_TIME: PlanTime = { timeLimitS: 10, gap: 0.01 }

/**
 * The supply plan: made at once, then bettered by the solver for as long as it may.
 *
 * @returns for each part of the company the cheaper of the two, with what it costs; or which limits have to give way
 */
export async function solvePlan(
  problem: PlanProblem,
  time: PlanTime = USUAL_PLAN_TIME,
): Promise<PlanOutcome> {
  const parts = planParts(problem).map(openPart)
  const asks = parts.map(({ model, start }) => ({ milp: model.milp, start }))
  const answers = await runMilps(asks, time)
  const stuck = parts.filter((part, i) => !part.start && !answers[i]?.values)
  if (stuck.length > 0) return { ok: false, relax: await relaxParts(stuck, time) }
  const chosen = parts.map((part, i) => closePart(part, answers[i]))
  const plan = {
    orders: chosen.flatMap((one) => one.plan.orders),
    moves: chosen.flatMap((one) => one.plan.moves),
    returns: chosen.flatMap((one) => one.plan.returns),
  }
  const cost = planCost(problem, plan)
  const bounds = chosen.map((one) => one.bound)
  const known = bounds.filter((bound) => bound !== null)
  const bound = known.length < bounds.length ? null : known.reduce((sum, one) => sum + one, 0)
  return {
    ok: true,
    plan,
    cost,
    by: chosen.some((one) => one.by === 'solver') ? 'solver' : 'greedy',
    greedyCost: planCost(problem, greedyPlan(problem)),
    gap:
      bound === null ? null : Math.max(0, (cost.total - bound) / Math.max(1, Math.abs(cost.total))),
  }
}

type Part = Readonly<{
  problem: PlanProblem
  model: PlanModel
  greedy: SupplyPlan
  /** The greedy plan's columns; null where it breaks a limit. */
  start: Float64Array | null
}>

function openPart(problem: PlanProblem): Part {
  const model = planModel(problem)
  const greedy = greedyPlan(problem)
  const isAllowed = brokenLimits(problem, greedy).length === 0
  return { problem, model, greedy, start: isAllowed ? valuesOf(problem, model, greedy) : null }
}

/** What the solver calls feasible is believed only after the plan was looked at. */
function closePart({ problem, model, greedy, start }: Part, answer: SolverAnswer | undefined) {
  const bound =
    answer && answer.bound !== null && Number.isFinite(answer.bound) ? answer.bound : null
  const found = answer?.values ? planOf(problem, model, answer.values) : null
  const isAllowed = found !== null && brokenLimits(problem, found).length === 0
  const isCheaper =
    isAllowed && (!start || planCost(problem, found).total <= planCost(problem, greedy).total)
  return isCheaper
    ? { plan: found, by: 'solver' as const, bound }
    : { plan: greedy, by: 'greedy' as const, bound }
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
