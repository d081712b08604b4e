import { brokenLimits, storageBreaks } from './supply-plan-check'
import {
  breakOff,
  type CellTrack,
  cellKey,
  cellTracks,
  cylindersOf,
  otherStanding,
  planCost,
  storageEach,
} from './supply-plan-cost'
import { type TruckChoice, TruckSearch } from './supply-plan-trucks'
import type { PlanLine, PlanOrder, PlanProblem, PlanReturn, SupplyPlan } from './supply-plan-types'
import { type Rooms, SiteUnits } from './supply-plan-units'

export type SitePlanFound = Readonly<{
  /** Null where none was found that keeps every limit. */
  plan: SupplyPlan | null
  cost: number
  /** No plan of this site costs less. */
  bound: number
}>

export type SiteSearch = Readonly<{
  /** More trucks are not searched. */
  mostTrucks?: number
  /** Prices of room to begin with. */
  rooms?: Rooms
  /** How often those prices are mended. */
  rounds?: number
}>

/** Prices of room that are tried, and how far each goes towards the next. */
const MOST_ROUNDS = 25
const FIRST_STEP = 1.2
const STEP_SHRINKS = 0.75
const BACKED_SHRINKS = 0.5
const PATIENCE = 4
const MOST_REPAIRS = 120
/** More trucks than this are too many choices: the solver has to look at them. */
const MOST_TRUCKS = 26
const LOOKED_AT = 3

/** Whether a plan of this site can be made truck by truck: nothing but its own trucks bring anything. */
export const isOneSite = (problem: PlanProblem): boolean =>
  problem.routes.length === 0 &&
  problem.coverIs === 'priced' &&
  new Set(problem.cells.map((cell) => cell.siteId)).size === 1

function ordersOf(site: SiteUnits, choice: TruckChoice): PlanOrder[] {
  return site.trucks.flatMap(({ supplier, day }, t) => {
    if (choice.options[t] === null) return []
    const counts = new Map<number, number>()
    for (const [u, at] of choice.assigned.entries()) {
      const cell = site.units[u]?.cell
      if (at === t && cell !== undefined) counts.set(cell, (counts.get(cell) ?? 0) + 1)
    }
    for (const one of choice.extra)
      if (one.truck === t) counts.set(one.cell, (counts.get(one.cell) ?? 0) + one.quantity)
    const lines = [...counts].flatMap(([at, quantity]): PlanLine[] => {
      const cell = site.cells[at]
      return cell ? [{ gasId: cell.gasId, sizeId: cell.sizeId, quantity }] : []
    })
    return [{ supplierId: supplier.supplierId, siteId: supplier.siteId, day, lines }]
  })
}

/** With every truck that comes, all empties that are there go. */
function withReturns(site: SiteUnits, orders: readonly PlanOrder[]): SupplyPlan {
  const tracks = cellTracks(site.problem, { orders, moves: [], returns: [] })
  const takes = new Set(
    site.problem.suppliers.filter((one) => one.takesEmpties !== false).map((one) => one.supplierId),
  )
  const days = [
    ...new Set(orders.flatMap((one) => (takes.has(one.supplierId) ? [one.day] : []))),
  ].sort((a, b) => a - b)
  const gone = new Map<string, number>()
  const returns = days.flatMap((day): PlanReturn[] => {
    const lines = site.cells.flatMap((cell): PlanLine[] => {
      const level = tracks.get(cellKey(cell.siteId, cell.sizeId))?.level[day - 1] ?? 0
      const used = day === 0 ? 0 : Math.max(0, Math.min(cell.used[day - 1] ?? 0, level))
      const before = gone.get(cell.sizeId) ?? 0
      const quantity = Math.floor(cell.empty + used - before)
      if (quantity <= 0) return []
      gone.set(cell.sizeId, before + quantity)
      return [{ gasId: cell.gasId, sizeId: cell.sizeId, quantity }]
    })
    const siteId = site.cells[0]?.siteId ?? ''
    return lines.length > 0 ? [{ siteId, day, lines }] : []
  })
  const taken = new Set(returns.map((one) => one.day))
  const useful = orders.filter((order) => order.lines.length > 0 || taken.has(order.day))
  return { orders: useful, moves: [], returns }
}

const without = (orders: readonly PlanOrder[], at: number, sizeId: string): PlanOrder[] =>
  orders.map((order, i) =>
    i === at
      ? {
          ...order,
          lines: order.lines
            .map((line) =>
              line.sizeId === sizeId ? { ...line, quantity: line.quantity - 1 } : line,
            )
            .filter((line) => line.quantity > 0),
        }
      : order,
  )

/** What one cylinder fewer of a line costs: days short, less its price, its rent and what a break gives up. */
function missedBy(
  site: SiteUnits,
  order: PlanOrder,
  { sizeId, track }: { sizeId: string; track: CellTrack | undefined },
): number {
  const { suppliers, days } = site.problem
  const cell = site.cells.find((one) => one.sizeId === sizeId)
  const supplier = suppliers.find((one) => one.supplierId === order.supplierId)
  if (!cell || !supplier) return Number.POSITIVE_INFINITY
  let cost = -(supplier.prices[sizeId] ?? 0) - cell.rentPerDay * (days - order.day)
  for (let day = order.day; day < days; day += 1) {
    const lack = (cell.cover[day] ?? 0) - (track?.level[day] ?? 0) + 1
    cost += cell.runOutPerDay * Math.min(1, Math.max(0, lack))
  }
  const count = cylindersOf(order.lines)
  return cost + count * breakOff(supplier, count) - (count - 1) * breakOff(supplier, count - 1)
}

const isTooLarge = ({ problem }: SiteUnits, { supplierId, lines }: PlanOrder): boolean => {
  const supplier = problem.suppliers.find((one) => one.supplierId === supplierId)
  return cylindersOf(lines) > (supplier?.most ?? 0)
}

/** One cylinder fewer after the other, the least missed first, until trucks are large enough and what is there has room. */
function fitted(site: SiteUnits, first: SupplyPlan): SupplyPlan | null {
  let plan = first
  for (let round = 0; round < MOST_REPAIRS; round += 1) {
    const tracks = cellTracks(site.problem, plan)
    const large = plan.orders.find((order) => isTooLarge(site, order))
    const [full] = storageBreaks({ problem: site.problem, tracks })
    if (!full && !large) return brokenLimits(site.problem, plan).length === 0 ? plan : null
    const gasIds = (full?.gasId ?? '').split(' ')
    const helps = (order: PlanOrder, { gasId }: PlanLine) =>
      large ? order === large : order.day <= (full?.day ?? 0) && gasIds.includes(gasId)
    const fewer = plan.orders.flatMap((order, at) =>
      order.lines
        .filter((line) => helps(order, line))
        .map(({ sizeId }) => {
          const track = tracks.get(cellKey(order.siteId, sizeId))
          return { at, sizeId, cost: missedBy(site, order, { sizeId, track }) }
        }),
    )
    // Far from fitting, one of each of several lines at once: what the next is missed by changes little.
    const atOnce = Math.max(1, Math.floor((full?.by ?? 0) / 2))
    const least = fewer.toSorted((a, b) => a.cost - b.cost).slice(0, atOnce)
    if (least.length === 0) return null
    const orders = least.reduce<readonly PlanOrder[]>(
      (kept, { at, sizeId }) => without(kept, at, sizeId),
      plan.orders,
    )
    plan = withReturns(site, orders)
  }
  return null
}

/** What stands above the room of each limit on each day under a plan. */
function aboveRoom(site: SiteUnits, plan: SupplyPlan): number[][] {
  const tracks = cellTracks(site.problem, plan)
  return site.limits.map((limit) => {
    const here = site.cells.filter((cell) => limit.gasIds.includes(cell.gasId))
    return Array.from({ length: site.problem.days }, (_, day) =>
      here.reduce((sum, cell) => {
        const track = tracks.get(cellKey(cell.siteId, cell.sizeId))
        const stands =
          (track?.level[day] ?? 0) + otherStanding(cell, day) - (track?.returned[day] ?? 0)
        return sum + storageEach(limit, cell.sizeId) * stands
      }, -limit.most),
    )
  })
}

/** What each empty pays for its cylinder, once it is known whose are taken that never were brought, or never taken. */
function nextBacked(
  site: SiteUnits,
  choice: TruckChoice,
  { backed, rooms }: { backed: readonly number[]; rooms: Rooms },
): number[] {
  const takers = site.trucks.flatMap((truck, t) =>
    truck.takesEmpties ? [{ day: truck.day, comes: choice.options[t] !== null }] : [],
  )
  return site.units.map((_, u) => {
    const by = backed[u] ?? 0
    const isBrought = (choice.assigned[u] ?? -1) >= 0
    const savedBy = (ones: readonly { day: number }[]) =>
      Math.max(0, ...ones.map(({ day }) => site.emptySaves(u, day, rooms)))
    const isTaken = savedBy(takers.filter(({ comes }) => comes)) > by
    if (isTaken === isBrought) return by
    return isTaken ? savedBy(takers) : by * BACKED_SHRINKS
  })
}

/**
 * The plan of one site by its trucks: which come and at which price is searched for, what each brings follows unit by
 * unit, and room that is short is given a price until the plan fits (Lagrangian relaxation, subgradient steps).
 *
 * @param problem of one site, with no own trucks and cover priced
 * @param gap share of the cost within which it stops
 * @returns the best plan found, and a cost below which none can be; null where there are too many trucks to search
 * @remarks That an empty must have been full before is priced as room is. The bound leaves out what a manifold lacks and
 *   the most of an order: each can only add to the cost.
 */
export function planSite(
  problem: PlanProblem,
  gap: number,
  { mostTrucks = MOST_TRUCKS, rooms: first, rounds = MOST_ROUNDS }: SiteSearch = {},
): SitePlanFound | null {
  const site = new SiteUnits(problem, problem.cells)
  if (site.trucks.length > mostTrucks) return null
  const left = site.limits.map((limit) => site.roomLeft(limit))
  let rooms: Rooms = first ?? left.map((days) => days.map(() => 0))
  let backed = site.units.map(() => 0)
  const found: { plan: SupplyPlan | null; cost: number; bound: number } = {
    plan: null,
    cost: Number.POSITIVE_INFINITY,
    bound: Number.NEGATIVE_INFINITY,
  }
  const idle: SupplyPlan = { orders: [], moves: [], returns: [] }
  const look = (plan: SupplyPlan | null) => {
    if (!plan) return
    const { total } = planCost(problem, plan)
    if (total < found.cost) Object.assign(found, { plan, cost: total })
  }
  if (brokenLimits(problem, idle).length === 0) look(idle)
  let step = FIRST_STEP
  let waited = 0
  for (let round = 0; round < rounds; round += 1) {
    const { choices, bound } = new TruckSearch(site, rooms, backed).run()
    const priced = rooms.reduce(
      (sum, days, l) =>
        sum + days.reduce((all, price, day) => all + price * (left[l]?.[day] ?? 0), 0),
      0,
    )
    const costAt = (least: number) => site.fixedCost + least - priced
    const low = costAt(bound)
    if (low > found.bound) {
      found.bound = low
      waited = 0
    } else waited += 1
    // A choice that costs more even before all its room is paid for has no better plan.
    for (const choice of choices.slice(0, LOOKED_AT).filter((one) => costAt(one.cost) < found.cost))
      look(fitted(site, withReturns(site, ordersOf(site, choice))))
    const [best] = choices
    if (!best || found.cost - found.bound <= gap * Math.abs(found.cost)) break
    const paid = nextBacked(site, best, { backed, rooms })
    const above = aboveRoom(site, withReturns(site, ordersOf(site, best)))
    const length = above.flat().reduce((sum, one) => sum + one ** 2, 0)
    if (waited >= PATIENCE) {
      step *= STEP_SHRINKS
      waited = 0
    }
    const reach = Number.isFinite(found.cost) ? found.cost - low : Math.abs(low) * 0.1
    const by = length > 0 ? (step * Math.max(reach, 0)) / length : 0
    const next = rooms.map((days, l) =>
      days.map((price, day) => Math.max(0, price + by * (above[l]?.[day] ?? 0))),
    )
    const isSame = (a: readonly number[], b: readonly number[]) => a.every((one, i) => one === b[i])
    if (isSame(next.flat(), rooms.flat()) && isSame(paid, backed)) break
    rooms = next
    backed = paid
  }
  return found
}
