import 'server-only'
import { createHash } from 'node:crypto'
import { brokenLimits } from '@/lib/calc/supply-plan-check'
import { planCost } from '@/lib/calc/supply-plan-cost'
import { greedyPlan } from '@/lib/calc/supply-plan-greedy'
import type { PlanProblem, SupplyPlan } from '@/lib/calc/supply-plan-types'
import type { SolverProgress } from '@/lib/solver/run-milp'
import { type PlanOutcome, solvePlan } from '@/lib/solver/solve-plan'

const TIME = { timeLimitS: 8, gap: 0.01 }
/** Plans kept by what they rest on: a page that is looked at again does not ask the solver again. */
const MOST_KEPT = 40

/** A page and a route are bundled apart and would each have plans of their own: both reach these. */
const shared = globalThis as {
  kerfwatchPlans?: { kept: Map<string, PlanOutcome>; running: Map<string, Promise<PlanOutcome>> }
}
shared.kerfwatchPlans ??= { kept: new Map(), running: new Map() }
const { kept, running } = shared.kerfwatchPlans

const nameOf = (problem: PlanProblem) =>
  createHash('sha256').update(JSON.stringify(problem)).digest('base64url')

export type KnownPlan = Readonly<{
  plan: SupplyPlan
  /** Whether the solver has looked at it yet. */
  isSolved: boolean
  gap: number | null
  outcome: PlanOutcome | null
}>

/** The solver's plan where it is known by now, else the one that is made at once. Never waits. */
export function knownPlan(problem: PlanProblem): KnownPlan {
  const outcome = kept.get(nameOf(problem)) ?? null
  if (outcome?.ok) return { plan: outcome.plan, isSolved: true, gap: outcome.gap, outcome }
  return { plan: greedyPlan(problem), isSolved: outcome !== null, gap: null, outcome }
}

/** Runs the solver on what is known, once for all who ask for the same. */
export async function betterPlan(
  problem: PlanProblem,
  onProgress: (progress: SolverProgress) => void,
): Promise<PlanOutcome> {
  const name = nameOf(problem)
  const known = kept.get(name)
  if (known) return known
  const run = running.get(name) ?? solvePlan(problem, { ...TIME, onProgress })
  running.set(name, run)
  try {
    const outcome = await run
    kept.set(name, outcome)
    for (const old of [...kept.keys()].slice(0, Math.max(0, kept.size - MOST_KEPT)))
      kept.delete(old)
    return outcome
  } finally {
    running.delete(name)
  }
}

/** Cost and broken limits of a plan that somebody changed. */
export const judged = (problem: PlanProblem, plan: SupplyPlan) => ({
  cost: planCost(problem, plan),
  broken: brokenLimits(problem, plan),
})
