import type {
  PlanCell,
  PlanCost,
  PlanProblem,
  PlanStorage,
  PlanSupplier,
  SupplyPlan,
} from './supply-plan-types'

/** How a plan moves each cell, by day: what has ever been there full, and empties taken away until then. */
export type CellTrack = { level: number[]; returned: number[] }

export const cellKey = (siteId: string, sizeId: string) => `${siteId}|${sizeId}`

/** What stands on a site beside the full ones, if no empties go but those that are spoken for. */
export const otherStanding = ({ empty, inUse, leaving }: PlanCell, day: number): number =>
  empty + inUse + (leaving?.[day] ?? 0)

/** Cylinders at hand until each day, and empties gone, under a plan: what came by orders, moves and fixed arrivals. */
export function cellTracks(problem: PlanProblem, plan: SupplyPlan): Map<string, CellTrack> {
  const tracks = new Map(
    problem.cells.map((cell) => {
      let level = cell.full
      const levels = Array.from({ length: problem.days }, (_, day) => {
        level += cell.fixedIn[day] ?? 0
        return level
      })
      const track = { level: levels, returned: new Array<number>(problem.days).fill(0) }
      return [cellKey(cell.siteId, cell.sizeId), track]
    }),
  )
  const add = (list: 'level' | 'returned', key: string, day: number, quantity: number) => {
    const numbers = tracks.get(key)?.[list] ?? []
    for (let on = day; on < numbers.length; on += 1) numbers[on] = (numbers[on] ?? 0) + quantity
  }
  for (const { siteId, day, lines } of plan.orders)
    for (const line of lines) add('level', cellKey(siteId, line.sizeId), day, line.quantity)
  for (const { siteId, day, lines } of plan.returns)
    for (const line of lines) add('returned', cellKey(siteId, line.sizeId), day, line.quantity)
  const routes = new Map(problem.routes.map((route) => [route.routeId, route]))
  for (const { routeId, day, lines } of plan.moves) {
    const route = routes.get(routeId)
    if (!route) continue
    for (const line of lines) {
      add('level', cellKey(route.fromSiteId, line.sizeId), day, -line.quantity)
      add('level', cellKey(route.toSiteId, line.sizeId), day, line.quantity)
    }
  }
  return tracks
}

/** What is taken off each cylinder of an order of so many. */
export function breakOff(supplier: PlanSupplier, cylinders: number): number {
  return supplier.breaks.reduce((off, one) => (cylinders >= one.from ? one.off : off), 0)
}

/** What one cylinder of a size counts under a storage limit, and the most that any of these does. */
export const storageEach = ({ eachOf }: PlanStorage, sizeId: string): number =>
  eachOf?.[sizeId] ?? 1
export const storageLargest = (limit: PlanStorage, cells: readonly PlanCell[]): number =>
  Math.max(
    0,
    ...cells
      .filter((cell) => cell.siteId === limit.siteId && limit.gasIds.includes(cell.gasId))
      .map((cell) => storageEach(limit, cell.sizeId)),
  ) || 1

export const cylindersOf = (lines: readonly { quantity: number }[]): number =>
  lines.reduce((sum, line) => sum + line.quantity, 0)

/** What an order's cylinders cost, breaks taken off; its delivery apart. */
export function orderCost(supplier: PlanSupplier, order: SupplyPlan['orders'][number]): number {
  const goods = order.lines.reduce(
    (sum, line) => sum + line.quantity * (supplier.prices[line.sizeId] ?? 0),
    0,
  )
  const cylinders = cylindersOf(order.lines)
  return goods - cylinders * breakOff(supplier, cylinders)
}

/** Rent, demurrage and what running short costs of one cell. */
export function cellCost(cell: PlanCell, track: CellTrack) {
  const cost = { rent: 0, demurrage: 0, runOut: 0 }
  for (const [day, level] of track.level.entries()) {
    const gone = track.returned[day] ?? 0
    const leaving = cell.leaving?.[day] ?? 0
    cost.rent += cell.rentPerDay * (level + otherStanding(cell, day) - gone)
    if (day >= cell.demurrageFromDay)
      cost.demurrage += cell.demurragePerDay * (cell.empty + leaving + (cell.used[day] ?? 0) - gone)
    cost.runOut += cell.runOutPerDay * Math.max(0, (cell.cover[day] ?? 0) - level)
  }
  return cost
}

/** Cylinders that a manifold lacks on a day. */
export function manifoldShort(
  problem: PlanProblem,
  need: PlanProblem['manifolds'][number],
  tracks: ReadonlyMap<string, CellTrack>,
  day: number,
): number {
  const there = problem.cells
    .filter((cell) => cell.siteId === need.siteId && cell.gasId === need.gasId)
    .reduce((sum, cell) => {
      const level = tracks.get(cellKey(cell.siteId, cell.sizeId))?.level[day] ?? 0
      return sum + level - (cell.used[day] ?? 0) + cell.inUse
    }, 0)
  return Math.max(0, (need.least[day] ?? 0) - there)
}

/**
 * What a plan costs over its days, in minor units.
 *
 * @param problem, plan what is known and what is to be done
 * @returns goods less breaks, fees, trips, rent of all cylinders, demurrage of empties, and the price of risk: what
 *   the high end of use is short of, day by day
 */
export function planCost(problem: PlanProblem, plan: SupplyPlan): PlanCost {
  const tracks = cellTracks(problem, plan)
  const sum = { goods: 0, fees: 0, trips: 0, rent: 0, demurrage: 0, runOut: 0 }
  const suppliers = new Map(
    problem.suppliers.map((one) => [`${one.supplierId}|${one.siteId}`, one]),
  )
  for (const order of plan.orders) {
    const supplier = suppliers.get(`${order.supplierId}|${order.siteId}`)
    if (!supplier) continue
    sum.goods += orderCost(supplier, order)
    sum.fees += supplier.fee
  }
  const routes = new Map(problem.routes.map((route) => [route.routeId, route]))
  for (const move of plan.moves) sum.trips += routes.get(move.routeId)?.tripCost ?? 0
  for (const cell of problem.cells) {
    const track = tracks.get(cellKey(cell.siteId, cell.sizeId))
    if (!track) continue
    const own = cellCost(cell, track)
    sum.rent += own.rent
    sum.demurrage += own.demurrage
    sum.runOut += own.runOut
  }
  for (const need of problem.manifolds)
    for (let day = 0; day < problem.days; day += 1)
      sum.runOut += need.shortPerDay * manifoldShort(problem, need, tracks, day)
  const total = Object.values(sum).reduce((all, part) => all + part, 0)
  return { ...sum, total }
}
