import type { PlanProblem } from './supply-plan-types'

/**
 * Sites that own trucks link are planned together, every other for itself: the same plan, sooner.
 */
export function planParts(problem: PlanProblem): PlanProblem[] {
  const linked = new Set(problem.routes.flatMap((route) => [route.fromSiteId, route.toSiteId]))
  const siteIds = [...new Set(problem.cells.map((cell) => cell.siteId))]
  const groups = siteIds.filter((siteId) => !linked.has(siteId)).map((siteId) => [siteId])
  if (linked.size > 0) groups.unshift(siteIds.filter((siteId) => linked.has(siteId)))
  return groups.map((group) => {
    const isHere = (one: { siteId: string }) => group.includes(one.siteId)
    return {
      ...problem,
      cells: problem.cells.filter(isHere),
      suppliers: problem.suppliers.filter(isHere),
      routes: problem.routes.filter((route) => group.includes(route.fromSiteId)),
      storage: problem.storage.filter(isHere),
      manifolds: problem.manifolds.filter(isHere),
    }
  })
}
