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
  const movedIn = (sizeId: string, day: number) =>
    moves
      .filter((move) => move.day === day)
      .reduce((sum, move) => {
        const route = routes.get(move.routeId)
        const sign = Number(route?.toSiteId === siteId) - Number(route?.fromSiteId === siteId)
        const count = move.lines.reduce(
          (all, line) => (line.sizeId === sizeId ? all + line.quantity : all),
          0,
        )
        return sum + sign * count
      }, 0)
  return {
    ...problem,
    cells: problem.cells.filter(isHere).map((cell) => ({
      ...cell,
      fixedIn: Array.from(
        { length: problem.days },
        (_, day) => (cell.fixedIn[day] ?? 0) + movedIn(cell.sizeId, day),
      ),
    })),
    suppliers: problem.suppliers.filter(isHere),
    routes: [],
    storage: problem.storage.filter(isHere),
    manifolds: problem.manifolds.filter(isHere),
  }
}
