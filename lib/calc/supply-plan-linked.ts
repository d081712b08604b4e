import type { PlanProblem, SupplyPlan } from './supply-plan-types'

/**
 * One site of a company, once its own trucks' trips are settled: what they bring comes for sure, what they take is gone.
 *
 * @param problem of all sites
 * @param moves trips that are made
 * @returns the problem of that site, to be planned by its suppliers' trucks alone
 */
export function siteWithMoves(
  problem: PlanProblem,
  siteId: string,
  moves: SupplyPlan['moves'],
): PlanProblem {
  const routes = new Map(problem.routes.map((route) => [route.routeId, route]))
  const isHere = (one: { siteId: string }) => one.siteId === siteId
  const moved = (end: 'fromSiteId' | 'toSiteId', sizeId: string, day: number) =>
    moves
      .filter((move) => move.day === day && routes.get(move.routeId)?.[end] === siteId)
      .flatMap((move) => move.lines)
      .reduce((sum, line) => (line.sizeId === sizeId ? sum + line.quantity : sum), 0)
  const out = (sizeId: string, day: number) => moved('fromSiteId', sizeId, day)
  return {
    ...problem,
    cells: problem.cells.filter(isHere).map((cell) => ({
      ...cell,
      fixedIn: Array.from(
        { length: problem.days },
        (_, day) =>
          (cell.fixedIn[day] ?? 0) + moved('toSiteId', cell.sizeId, day) - out(cell.sizeId, day),
      ),
      // What leaves in the morning must be there the evening before, beside what is used until then.
      cover: cell.cover.map((cover, day) => {
        const leaves = out(cell.sizeId, day + 1)
        return leaves > 0 ? Math.max(cover, (cell.used[day] ?? 0) + leaves) : cover
      }),
    })),
    suppliers: problem.suppliers.filter(isHere),
    routes: [],
    storage: problem.storage.filter(isHere),
    manifolds: problem.manifolds.filter(isHere),
  }
}
