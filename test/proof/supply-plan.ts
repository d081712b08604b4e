import { brokenLimits } from '@/lib/calc/supply-plan-check'
import { planCost } from '@/lib/calc/supply-plan-cost'
import { greedyPlan } from '@/lib/calc/supply-plan-greedy'
import { solvePlan } from '@/lib/solver/solve-plan'
import { planCompany } from '../unit/solver/plan-company'

export const name =
  'A supply plan keeps every limit and never costs more than the one that is made at once'

const COMPANIES = 200
/** Branches and not seconds: what is found is the same however busy the machine is. */
const TIME = { timeLimitS: 120, gap: 0.01, mostNodes: 500 }

/** Companies of two to five sites, each plan checked by `brokenLimits`, which knows nothing of the program. */
export async function run() {
  const failures: string[] = []
  let saved = 0
  let total = 0
  for (let i = 0; i < COMPANIES; i += 1) {
    const problem = planCompany(`proof ${i}`, {
      sites: 2 + (i % 4),
      gases: 1 + (i % 3),
      sizes: 1 + (i % 2),
      days: 5 + (i % 5),
    })
    const greedyCost = planCost(problem, greedyPlan(problem)).total
    const outcome = await solvePlan(problem, TIME)
    if (!outcome.ok) {
      failures.push(`company ${i}: no plan, though storage has room`)
      continue
    }
    const broken = brokenLimits(problem, outcome.plan)
    if (broken.length > 0) failures.push(`company ${i}: breaks ${broken[0]?.limit}`)
    if (outcome.cost.total > greedyCost + 1e-6)
      failures.push(`company ${i}: ${outcome.cost.total} is more than ${greedyCost}`)
    saved += greedyCost - outcome.cost.total
    total += greedyCost
  }
  console.log(`    ${((100 * saved) / total).toFixed(1)} % cheaper than the plans made at once`)
  return { cases: COMPANIES, failures }
}
