import { brokenLimits, storageBreaks } from './supply-plan-check'
import {
  breakOff,
  type CellTrack,
  cellKey,
  cellTracks,
  cylindersOf,
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
const PATIENCE = 4
const MOST_REPAIRS = 60
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

/** One cylinder fewer after the other, the least missed first, until what is there has room. */
function fitted(site: SiteUnits, first: SupplyPlan): SupplyPlan | null {
  let plan = first
  for (let round = 0; round < MOST_REPAIRS; round += 1) {
    const tracks = cellTracks(site.problem, plan)
    const [full] = storageBreaks({ problem: site.problem, tracks })
    if (!full) return brokenLimits(site.problem, plan).length === 0 ? plan : null
    const gasIds = (full.gasId ?? '').split(' ')
    const fewer = plan.orders.flatMap((order, at) =>
      order.day > full.day
        ? []
        : order.lines
            .filter((line) => gasIds.includes(line.gasId))
            .map(({ sizeId }) => {
              const track = tracks.get(cellKey(order.siteId, sizeId))
              return { at, sizeId, cost: missedBy(site, order, { sizeId, track }) }
            }),
    )
    const [least] = fewer.toSorted((a, b) => a.cost - b.cost)
    if (!least) return null
    plan = withReturns(site, without(plan.orders, least.at, least.sizeId))
  }
  return null
}

/** What stands above the room of each limit on each day under a choice, all empties going as they can. */
function aboveRoom(site: SiteUnits, choice: TruckChoice, left: readonly (readonly number[])[]) {
  const days = site.problem.days
  const truckDays = new Set(
    site.trucks.flatMap(({ day, takesEmpties }, t) =>
      choice.options[t] === null || !takesEmpties ? [] : [day],
    ),
  )
  const change = site.cells.map((_, at) => {
    const perDay = new Array<number>(days).fill(0)
    for (const [u, t] of choice.assigned.entries()) {
      const day = site.trucks[t]?.day
      if (site.units[u]?.cell === at && day !== undefined) perDay[day] = (perDay[day] ?? 0) + 1
    }
    for (const one of choice.extra) {
      const day = site.trucks[one.truck]?.day
      if (one.cell === at && day !== undefined) perDay[day] = (perDay[day] ?? 0) + one.quantity
    }
    let waiting = 0
    let level = 0
    return perDay.map((come, day) => {
      waiting += site.empties[at]?.[day] ?? 0
      level += come
      if (truckDays.has(day)) {
        level -= waiting
        waiting = 0
      }
      return level
    })
  })
  return site.limits.map((limit, l) =>
    Array.from({ length: days }, (_, day) =>
      site.cells.reduce(
        (sum, cell, at) =>
          limit.gasIds.includes(cell.gasId)
            ? sum + storageEach(limit, cell.sizeId) * (change[at]?.[day] ?? 0)
            : sum,
        -(left[l]?.[day] ?? 0),
      ),
    ),
  )
}

/**
 * The plan of one site by its trucks: which come and at which price is searched for, what each brings follows unit by
 * unit, and room that is short is given a price until the plan fits (Lagrangian relaxation, subgradient steps).
 *
 * @param problem of one site, with no own trucks and cover priced
 * @param gap share of the cost within which it stops
 * @returns the best plan found, and a cost below which none can be; null where there are too many trucks to search
 * @remarks The bound leaves out what a manifold lacks, the most of an order, and that an empty must have been full
 *   before: each can only add to the cost.
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
    const { choices, bound } = new TruckSearch(site, rooms).run()
    const priced = rooms.reduce(
      (sum, days, l) =>
        sum + days.reduce((all, price, day) => all + price * (left[l]?.[day] ?? 0), 0),
      0,
    )
    const low = site.fixedCost + bound - priced
    if (low > found.bound) {
      found.bound = low
      waited = 0
    } else waited += 1
    for (const choice of choices.slice(0, LOOKED_AT))
      look(fitted(site, withReturns(site, ordersOf(site, choice))))
    const [best] = choices
    if (!best || found.cost - found.bound <= gap * Math.abs(found.cost)) break
    const above = aboveRoom(site, best, left)
    const length = above.flat().reduce((sum, one) => sum + one ** 2, 0)
    if (length === 0 || site.limits.length === 0) break
    if (waited >= PATIENCE) {
      step *= STEP_SHRINKS
      waited = 0
    }
    const reach = Number.isFinite(found.cost) ? found.cost - low : Math.abs(low) * 0.1
    const by = (step * Math.max(reach, 0)) / length
    const next = rooms.map((days, l) =>
      days.map((price, day) => Math.max(0, price + by * (above[l]?.[day] ?? 0))),
    )
    if (next.flat().every((price, i) => price === rooms.flat()[i])) break
    rooms = next
  }
  return found
}
