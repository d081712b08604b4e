import {
  breakOff,
  type CellTrack,
  cellCost,
  cellKey,
  cylindersOf,
  otherStanding,
  storageEach,
} from './supply-plan-cost'
import type {
  PlanCell,
  PlanLine,
  PlanMove,
  PlanOrder,
  PlanProblem,
  PlanReturn,
  PlanSupplier,
  SupplyPlan,
} from './supply-plan-types'

/** How many trucks ahead an order is for. */
const NEAR = 1e-6
const LOOK_AHEAD = [1, 2, Number.POSITIVE_INFINITY]

/** A site while it is planned: what is at hand, what has gone back, what was decided. */
class SitePlan {
  readonly tracks: CellTrack[]
  readonly orders: PlanOrder[] = []
  readonly returns: PlanReturn[] = []
  private goods = 0

  constructor(
    private readonly problem: PlanProblem,
    readonly cells: readonly PlanCell[],
    private readonly suppliers: readonly PlanSupplier[],
    extra: ReadonlyMap<string, readonly number[]>,
  ) {
    this.tracks = cells.map((cell) => {
      let level = cell.full
      const levels = Array.from({ length: problem.days }, (_, day) => {
        level += cell.fixedIn[day] ?? 0
        return level + (extra.get(cellKey(cell.siteId, cell.sizeId))?.[day] ?? 0)
      })
      return { level: levels, returned: levels.map(() => 0) }
    })
  }

  plan(ahead: number): this {
    const days = [...new Set(this.suppliers.flatMap((one) => one.days))]
      .filter((day) => day < this.problem.days)
      .sort((a, b) => a - b)
    for (const [at, day] of days.entries()) {
      const until = days[at + ahead] ?? this.problem.days
      const choices = this.suppliers
        .filter((one) => one.days.includes(day))
        .map((supplier) => this.orderOf(supplier, day, until))
        .filter((choice) => choice !== null)
      const best = choices.toSorted((a, b) => b.saves - a.saves)[0]
      if (best) this.carryOut(best.order, best.goods)
      else this.sendEmpties(day)
    }
    return this
  }

  cost(): number {
    return this.cells.reduce((sum, cell, at) => {
      const track = this.tracks[at]
      if (!track) return sum
      const { rent, demurrage, runOut } = cellCost(cell, track)
      return sum + rent + demurrage + runOut
    }, this.goods)
  }

  /** What of a cell is short at the worst until a day. */
  private lacks(at: number, from: number, until: number): number {
    const cover = this.cells[at]?.cover ?? []
    const levels = this.tracks[at]?.level ?? []
    let most = 0
    for (let day = from; day < until; day += 1)
      most = Math.max(most, (cover[day] ?? 0) - (levels[day] ?? 0))
    return most
  }

  /** Cylinders of a size for which every storage limit has room, at the fullest from a day on. */
  private room(of: PlanCell, from: number, coming: ReadonlyMap<string, number>): number {
    let least = Number.POSITIVE_INFINITY
    for (const limit of this.problem.storage) {
      if (limit.siteId !== of.siteId || !limit.gasIds.includes(of.gasId)) continue
      const each = storageEach(limit, of.sizeId)
      if (each <= 0) continue
      for (let day = from; day < this.problem.days; day += 1) {
        let left = limit.most
        for (const [at, cell] of this.cells.entries()) {
          if (!limit.gasIds.includes(cell.gasId)) continue
          const track = this.tracks[at]
          const stays = (track?.level[day] ?? 0) + otherStanding(cell, day)
          const there = stays - (track?.returned[day] ?? 0) + (coming.get(cell.sizeId) ?? 0)
          left -= there * storageEach(limit, cell.sizeId)
        }
        least = Math.min(least, (left + NEAR) / each)
      }
    }
    return least
  }

  /** Empties that may go on a day. */
  private empties(at: number, day: number): number {
    const cell = this.cells[at]
    const track = this.tracks[at]
    if (!cell || !track) return 0
    const used =
      day === 0 ? 0 : Math.max(0, Math.min(cell.used[day - 1] ?? 0, track.level[day - 1] ?? 0))
    return Math.max(0, cell.empty + used - (track.returned[this.problem.days - 1] ?? 0))
  }

  private orderOf(supplier: PlanSupplier, day: number, until: number) {
    const coming = new Map<string, number>()
    // Empties go with the same truck, so their room is free.
    const leaving = new Map(this.cells.map((cell, at) => [cell.sizeId, this.empties(at, day)]))
    const roomFor = (cell: PlanCell) => {
      const balance = new Map(
        this.cells.map((cell) => [
          cell.sizeId,
          (coming.get(cell.sizeId) ?? 0) - (leaving.get(cell.sizeId) ?? 0),
        ]),
      )
      return this.room(cell, day, balance)
    }
    let left = supplier.most
    const take = (at: number, wanted: number) => {
      const cell = this.cells[at]
      if (!cell || supplier.prices[cell.sizeId] === undefined) return
      const quantity = Math.floor(Math.max(0, Math.min(wanted, left, roomFor(cell))))
      if (quantity === 0) return
      left -= quantity
      coming.set(cell.sizeId, (coming.get(cell.sizeId) ?? 0) + quantity)
    }
    for (const at of this.cells.keys()) take(at, this.lacks(at, day, until))
    const count = () => [...coming.values()].reduce((sum, one) => sum + one, 0)
    if (count() === 0) return null
    // Too few for a truck: what is needed later comes now.
    for (const at of this.cells.keys()) {
      const missing = supplier.least - count()
      if (missing <= 0) break
      const cell = this.cells[at]
      const later = this.lacks(at, day, this.problem.days) - (coming.get(cell?.sizeId ?? '') ?? 0)
      take(at, Math.min(missing, later))
    }
    for (const at of this.cells.keys()) take(at, supplier.least - count())
    if (count() < supplier.least) return null
    return this.judged(supplier, day, coming)
  }

  /** What an order costs, and what it saves of running short; null where it is not worth it. */
  private judged(supplier: PlanSupplier, day: number, coming: ReadonlyMap<string, number>) {
    const lines: PlanLine[] = this.cells.flatMap((cell) => {
      const quantity = coming.get(cell.sizeId) ?? 0
      return quantity > 0 ? [{ gasId: cell.gasId, sizeId: cell.sizeId, quantity }] : []
    })
    const cylinders = cylindersOf(lines)
    const goods =
      supplier.fee +
      lines.reduce((sum, line) => sum + line.quantity * (supplier.prices[line.sizeId] ?? 0), 0) -
      cylinders * breakOff(supplier, cylinders)
    let rent = 0
    let short = 0
    for (const [at, cell] of this.cells.entries()) {
      const quantity = coming.get(cell.sizeId) ?? 0
      if (quantity === 0) continue
      rent += quantity * cell.rentPerDay * (this.problem.days - day)
      for (let on = day; on < this.problem.days; on += 1) {
        const lack = (cell.cover[on] ?? 0) - (this.tracks[at]?.level[on] ?? 0)
        short += cell.runOutPerDay * Math.min(quantity, Math.max(0, lack))
      }
    }
    const isRequired = this.problem.coverIs === 'required'
    const saves = short - goods - rent
    if (saves <= 0 && !isRequired) return null
    const order: PlanOrder = {
      supplierId: supplier.supplierId,
      siteId: supplier.siteId,
      day,
      lines,
    }
    return { order, goods, saves }
  }

  private carryOut(order: PlanOrder, goods: number): void {
    this.goods += goods
    this.orders.push(order)
    this.takeBack(order.day)
    for (const [at, cell] of this.cells.entries()) {
      const quantity = order.lines.find((line) => line.sizeId === cell.sizeId)?.quantity ?? 0
      const levels = this.tracks[at]?.level ?? []
      for (let on = order.day; on < levels.length; on += 1)
        levels[on] = (levels[on] ?? 0) + quantity
    }
  }

  private takeBack(day: number): void {
    const lines: PlanLine[] = []
    for (const [at, cell] of this.cells.entries()) {
      const quantity = this.empties(at, day)
      if (quantity <= 0) continue
      lines.push({ gasId: cell.gasId, sizeId: cell.sizeId, quantity })
      const gone = this.tracks[at]?.returned ?? []
      for (let on = day; on < gone.length; on += 1) gone[on] = (gone[on] ?? 0) + quantity
    }
    const siteId = this.cells[0]?.siteId
    if (lines.length > 0 && siteId !== undefined) this.returns.push({ siteId, day, lines })
  }

  /** A truck for empties alone, where the rent they would cost is more than its fee. */
  private sendEmpties(day: number): void {
    const [cheapest] = this.suppliers
      .filter((one) => one.days.includes(day))
      .toSorted((a, b) => a.fee - b.fee)
    if (!cheapest) return
    const { days } = this.problem
    const saved = this.cells.reduce((sum, cell, at) => {
      const late = Math.max(0, days - Math.max(day, cell.demurrageFromDay))
      return (
        sum + this.empties(at, day) * (cell.rentPerDay * (days - day) + cell.demurragePerDay * late)
      )
    }, 0)
    if (saved <= cheapest.fee) return
    const { supplierId, siteId } = cheapest
    this.carryOut({ supplierId, siteId, day, lines: [] }, cheapest.fee)
  }
}

/** Own trucks take what one site can spare to one that is short before any supplier comes. */
function greedyMoves(problem: PlanProblem): { moves: PlanMove[]; extra: Map<string, number[]> } {
  const cells = new Map(problem.cells.map((cell) => [cellKey(cell.siteId, cell.sizeId), cell]))
  const extra = new Map<string, number[]>()
  const hours = [...problem.fleet.driverHours]
  const moves: PlanMove[] = []
  const moved = (key: string, day: number, quantity: number) => {
    const list = extra.get(key) ?? new Array<number>(problem.days).fill(0)
    for (let on = day; on < problem.days; on += 1) list[on] = (list[on] ?? 0) + quantity
    extra.set(key, list)
  }
  const base = (cell: PlanCell, day: number) => {
    let level = cell.full + (extra.get(cellKey(cell.siteId, cell.sizeId))?.[day] ?? 0)
    for (let on = 0; on <= day; on += 1) level += cell.fixedIn[on] ?? 0
    return level
  }
  const firstTruck = (siteId: string) =>
    Math.min(
      problem.days,
      ...problem.suppliers.filter((one) => one.siteId === siteId).flatMap((one) => one.days),
    )
  for (const route of problem.routes) {
    const day = 0
    if ((hours[day] ?? 0) < route.hours || problem.fleet.tradeKg <= 0) continue
    let weightKg = problem.fleet.tradeKg
    let saves = 0
    const lines: PlanLine[] = []
    for (const from of problem.cells.filter((cell) => cell.siteId === route.fromSiteId)) {
      const to = cells.get(cellKey(route.toSiteId, from.sizeId))
      if (!to || from.grossKg > problem.fleet.tradeEachKg) continue
      const until = firstTruck(route.toSiteId)
      let lack = 0
      for (let on = day; on < until; on += 1)
        lack = Math.max(lack, (to.cover[on] ?? 0) - base(to, on))
      let spare = base(from, 0) - (from.fixedIn[0] ?? 0)
      for (let on = day; on < problem.days; on += 1)
        spare = Math.min(spare, base(from, on) - Math.max(from.cover[on] ?? 0, from.used[on] ?? 0))
      const fits = Math.floor(weightKg / from.grossKg + 1e-9)
      const quantity = Math.floor(Math.max(0, Math.min(lack, spare, fits)))
      if (quantity === 0) continue
      weightKg -= quantity * from.grossKg
      saves += quantity * to.runOutPerDay
      lines.push({ gasId: from.gasId, sizeId: from.sizeId, quantity })
    }
    if (
      lines.length === 0 ||
      saves <= route.tripCost ||
      !hasRoom(problem, route.toSiteId, lines, extra)
    )
      continue
    hours[day] = (hours[day] ?? 0) - route.hours
    moves.push({ routeId: route.routeId, day, papers: false, lines })
    for (const line of lines) {
      moved(cellKey(route.fromSiteId, line.sizeId), day, -line.quantity)
      moved(cellKey(route.toSiteId, line.sizeId), day, line.quantity)
    }
  }
  return { moves, extra }
}

function hasRoom(
  problem: PlanProblem,
  siteId: string,
  lines: readonly PlanLine[],
  extra: ReadonlyMap<string, readonly number[]>,
): boolean {
  return problem.storage
    .filter((limit) => limit.siteId === siteId)
    .every((limit) => {
      const coming = lines
        .filter((line) => limit.gasIds.includes(line.gasId))
        .reduce((sum, line) => sum + line.quantity * storageEach(limit, line.sizeId), 0)
      const there = problem.cells
        .filter((cell) => cell.siteId === siteId && limit.gasIds.includes(cell.gasId))
        .reduce((sum, cell) => {
          const fixed = cell.fixedIn.reduce((all, one) => all + one, 0)
          const more = Math.max(0, ...(extra.get(cellKey(siteId, cell.sizeId)) ?? [0]))
          const stands = cell.full + otherStanding(cell, 0) + fixed + more
          return sum + stands * storageEach(limit, cell.sizeId)
        }, 0)
      return coming === 0 || there + coming <= limit.most + NEAR
    })
}

/**
 * A plan at once: own trucks to sites that are short before a supplier comes, then each site's trucks in turn,
 * for one, two or all of those that follow, whichever costs least. Empties go whenever a truck comes.
 *
 * @param problem as for `planModel`
 * @returns a plan that breaks no limit unless storage is over already or cover is required and can't be had
 * @remarks Every site for itself: no truck is sent for the sake of another site's price.
 */
export function greedyPlan(problem: PlanProblem): SupplyPlan {
  const { moves, extra } = greedyMoves(problem)
  const sites = new Map<string, PlanCell[]>()
  for (const cell of problem.cells) {
    const here = sites.get(cell.siteId)
    if (here) here.push(cell)
    else sites.set(cell.siteId, [cell])
  }
  const best = [...sites].map(([siteId, cells]) => {
    const suppliers = problem.suppliers.filter((one) => one.siteId === siteId)
    const variants = LOOK_AHEAD.map((ahead) =>
      new SitePlan(problem, cells, suppliers, extra).plan(ahead),
    )
    return variants.reduce((least, one) => (one.cost() < least.cost() ? one : least))
  })
  return {
    orders: best.flatMap((site) => site.orders),
    moves,
    returns: best.flatMap((site) => site.returns),
  }
}
