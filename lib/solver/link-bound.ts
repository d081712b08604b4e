import type { PlanModel } from '../calc/supply-plan-columns'
import { planModel } from '../calc/supply-plan-model'
import {
  hoursWorth,
  type LinkPrices,
  linkPrices,
  type SiteShare,
  siteShares,
  sourceModel,
} from '../calc/supply-plan-shares'
import { planSite } from '../calc/supply-plan-site'
import type { PlanProblem } from '../calc/supply-plan-types'
import { runMilps, type SolverAnswer, type SolverAsk, type SolverTime } from './run-milp'

/** Trucks of a site that are searched truck by truck, own ones among them, and prices of room tried. */
const MOST_TRUCKS = 60
const ROUNDS = 5
/** Of the time that is left, at most so much for each look at the sites whose program has to be solved. */
const SHARE_OF_TIME = 0.8
/** A site's bound is looked for to a part of the gap that is wanted of all. */
const FINER = 4

/** Whoever waits for a page of this process is served between two sites. */
export const served = () => new Promise((resolve) => setImmediate(resolve))

type Bounded = Readonly<{ share: SiteShare; bound: number | null; isWide: boolean }>

/** A site at those prices, truck by truck; null where what it sells or its trucks are too many choices. */
function boundedShare(share: SiteShare, gap: number): Bounded {
  let bound: number | null = null
  let cost = Number.POSITIVE_INFINITY
  const isWide = () => bound === null || cost - bound > FINER * gap * cost
  // Room for nothing at first, where little of it is short; else at what the relaxation puts on it.
  for (const rooms of share.isSource ? [] : [undefined, share.rooms]) {
    const search = { mostTrucks: MOST_TRUCKS, rounds: ROUNDS, ...(rooms && { rooms }) }
    const found = isWide() ? planSite(share.problem, gap, search) : null
    if (!found) break
    bound = Math.max(found.bound, bound ?? found.bound)
    cost = Math.min(found.cost, cost)
  }
  return { share, bound, isWide: isWide() }
}

/** A program, and what it comes to where parts of cylinders and trucks are allowed. */
export type Relaxed = Readonly<{ model: PlanModel; answer: Promise<SolverAnswer | undefined> }>

/** Begins to solve that in a thread of its own, beside whatever is looked for here. */
export function relax(problem: PlanProblem, time: SolverTime): Relaxed {
  const model = planModel(problem)
  const ask = { milp: model.milp, start: null, isRelaxed: true }
  return { model, answer: runMilps([ask], time).then(([answer]) => answer) }
}

/**
 * A cost below which no plan of sites is that own trucks link: cylinders, hours and weight on trucks get the prices
 * that the program's relaxation puts on them, and each site is planned for itself at those (Lagrangian relaxation).
 *
 * @returns null where the solver gave no prices in time; what the relaxation comes to where there was time for no more
 */
export async function linkBound(
  problem: PlanProblem,
  { model, answer }: Relaxed,
  time: SolverTime,
): Promise<number | null> {
  const until = performance.now() + 1000 * time.timeLimitS
  const gap = time.gap / FINER
  const relaxed = await answer
  if (!relaxed?.duals || relaxed.bound === null) return null
  const prices = linkPrices(problem, model, relaxed.duals)
  const shares: Bounded[] = []
  for (const share of siteShares(problem, prices)) {
    if (performance.now() > until) return relaxed.bound
    shares.push(boundedShare(share, gap))
    await served()
  }
  const timeLimitS = (SHARE_OF_TIME * Math.max(0, until - performance.now())) / 1000
  const bounds = await closedShares(problem, { shares, prices, time: { ...time, gap, timeLimitS } })
  const constant = shares.reduce((sum, { share }) => sum + share.constant, 0)
  const bound = bounds.reduce((sum, one) => sum + one, constant - hoursWorth(problem, prices))
  return Math.max(bound, relaxed.bound)
}

/** Programs of which none waits for another, half of them in a thread each. */
async function runSideBySide(
  asks: readonly SolverAsk[],
  time: SolverTime,
): Promise<(SolverAnswer | undefined)[]> {
  const lanes = await Promise.all(
    [0, 1].map((lane) =>
      runMilps(
        asks.filter((_, at) => at % 2 === lane),
        time,
      ),
    ),
  )
  return asks.map((_, at) => lanes[at % 2]?.[Math.floor(at / 2)])
}

/** The bounds of all shares, those that are wide by their programs as far as there is time. */
async function closedShares(
  problem: PlanProblem,
  { shares, prices, time }: { shares: readonly Bounded[]; prices: LinkPrices; time: SolverTime },
): Promise<number[]> {
  const wide = shares.filter((one) => one.isWide)
  const programs = wide.map(({ share }) =>
    share.isSource ? sourceModel(problem, share, prices) : planModel(share.problem),
  )
  const asks = programs.map(({ milp }) => ({ milp, start: null }))
  // Whatever time is left for whole numbers, something must be known of each.
  const isUnknown = (_: unknown, at: number) => wide[at]?.bound === null
  const relaxedAsks = asks.filter(isUnknown).map((ask) => ({ ...ask, isRelaxed: true }))
  const first = await runMilps(relaxedAsks, time)
  const whole = await runSideBySide(asks, time)
  return shares.map((one) => {
    const known = one.bound ?? first[wide.filter(isUnknown).indexOf(one)]?.bound
    const proved = [known, whole[wide.indexOf(one)]?.bound]
    const isKnown = (bound: number | null | undefined) => Number.isFinite(bound)
    return Math.max(Number.NEGATIVE_INFINITY, ...proved.filter(isKnown).map(Number))
  })
}
