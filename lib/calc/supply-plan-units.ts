import { cellCost, otherStanding, storageEach } from './supply-plan-cost'
import type { PlanCell, PlanProblem, PlanStorage, PlanSupplier } from './supply-plan-types'

/** A truck that may come, at one of its prices: from so many cylinders on each costs so much less. */
export type TruckOption = Readonly<{ from: number; off: number }>
/** A day on which a supplier's truck may come. */
export type TruckDay = Readonly<{
  supplier: PlanSupplier
  day: number
  fee: number
  options: readonly TruckOption[]
  takesEmpties: boolean
}>
/** The n-th cylinder of a size that a site is short of. */
export type Unit = Readonly<{ cell: number; nth: number }>

/** What standing on a site from a day on costs beside rent, by storage limit and day: for the bound. */
export type Rooms = readonly (readonly number[])[]

const optionsOf = ({ least, breaks }: PlanSupplier): TruckOption[] => {
  const first = Math.max(1, least)
  const passed = breaks.filter((one) => one.from <= first).at(-1)
  return [{ from: first, off: passed?.off ?? 0 }, ...breaks.filter((one) => one.from > first)]
}

/**
 * One site's plan as units to be brought: each cylinder that is short comes with some truck or never, at a cost that
 * does not depend on the others. Cylinders at hand only grow in number, so that whoever is short longer comes first,
 * and the sum over units is the cost of the plan.
 */
export class SiteUnits {
  trucks: readonly TruckDay[]
  readonly units: readonly Unit[]
  readonly limits: readonly PlanStorage[]
  /** At hand by cell and day if nothing is done, and what that costs without being short. */
  readonly base: readonly (readonly number[])[]
  readonly fixedCost: number
  /** Empties by cell and the first day on which they may go, of cylinders that are there if nothing is done. */
  private readonly empties: readonly (readonly number[])[]
  /** By unit: the first day on which it may go as an empty, if it was brought; as many days as there are where never. */
  readonly emptiedOn: readonly number[]
  private readonly days: number

  constructor(
    readonly problem: PlanProblem,
    readonly cells: readonly PlanCell[],
  ) {
    const { days } = problem
    this.days = days
    const siteId = cells[0]?.siteId
    this.limits = problem.storage.filter((limit) => limit.siteId === siteId)
    const trucks = problem.suppliers
      .filter((one) => one.siteId === siteId)
      .flatMap((supplier) =>
        supplier.days
          .filter((day) => day < days)
          .map((day) => ({
            supplier,
            day,
            fee: supplier.fee,
            options: optionsOf(supplier),
            takesEmpties: supplier.takesEmpties !== false,
          })),
      )
      .sort((a, b) => a.day - b.day)
    this.base = cells.map((cell) => {
      let level = cell.full
      return Array.from({ length: days }, (_, day) => {
        level += cell.fixedIn[day] ?? 0
        return level
      })
    })
    this.fixedCost = cells.reduce((sum, cell, at) => {
      const level = [...(this.base[at] ?? [])]
      const { rent, demurrage } = cellCost(cell, { level, returned: level.map(() => 0) })
      return sum + rent + demurrage
    }, 0)
    this.units = cells.flatMap((cell, at) => {
      const most = Math.max(
        0,
        ...cell.cover.map((cover, day) =>
          Math.ceil(Math.max(cover, cell.used[day] ?? 0) - (this.base[at]?.[day] ?? 0)),
        ),
      )
      return Array.from({ length: most }, (_, n) => ({ cell: at, nth: n + 1 }))
    })
    this.empties = cells.map((cell, at) => {
      let most = 0
      return Array.from({ length: days }, (_, day) => {
        if (day === 0) return cell.empty
        const before = most
        most = Math.max(most, Math.min(cell.used[day - 1] ?? 0, this.base[at]?.[day - 1] ?? 0))
        return most - before
      })
    })
    this.emptiedOn = this.units.map(({ cell: at, nth }) => {
      const on = (cells[at]?.used ?? []).findIndex(
        (used, day) => used >= (this.base[at]?.[day] ?? 0) + nth,
      )
      return on < 0 ? days : on + 1
    })
    this.trucks = trucks
    const costs = this.unitCosts([])
    this.trucks = trucks.filter((truck, t) => truck.takesEmpties || this.pays(costs, t))
  }

  /** Whether all that a truck could bring saves more than it costs to come: room only makes it dearer. */
  private pays(costs: readonly Float64Array[], t: number): boolean {
    const { fee = 0, options = [], day = 0 } = this.trucks[t] ?? {}
    const off = Math.max(0, ...options.map((one) => one.off))
    const saved = costs.reduce((sum, row, u) => {
      const never = row[row.length - 1] ?? 0
      const empty = this.emptySaves(u, Math.max(day + 1, this.emptiedOn[u] ?? 0), [])
      return sum + Math.max(0, never - (row[t] ?? 0) + off + empty)
    }, 0)
    return saved > fee
  }

  /** What one of a cell costs from a day on by the price of room. */
  roomCost(at: number, day: number, rooms: Rooms): number {
    const cell = this.cells[at]
    if (!cell) return 0
    return this.limits.reduce((sum, limit, i) => {
      if (!limit.gasIds.includes(cell.gasId)) return sum
      const from = (rooms[i] ?? []).slice(day).reduce((all, one) => all + one, 0)
      return sum + storageEach(limit, cell.sizeId) * from
    }, 0)
  }

  /**
   * By unit: its cost with each truck (infinite where it is not sold), and at the end that of never coming. After the
   * units what empties save that wait since some day.
   *
   * @param backed by unit, what its empty must pay for its having been brought
   */
  costs(rooms: Rooms, backed: readonly number[]): Float64Array[] {
    const paid = this.unitCosts(rooms).map((row, u) => {
      const by = backed[u] ?? 0
      return by > 0 ? row.map((cost, t) => (t < row.length - 1 ? cost - by : cost)) : row
    })
    return [...paid, ...this.waiting(rooms, backed)]
  }

  private unitCosts(rooms: Rooms): Float64Array[] {
    const width = this.trucks.length + 1
    const standing = this.cells.map((cell, at) =>
      this.trucks.map(({ supplier, day }) => {
        const price = supplier.prices[cell.sizeId]
        if (price === undefined) return Number.POSITIVE_INFINITY
        return price + cell.rentPerDay * (this.days - day) + this.roomCost(at, day, rooms)
      }),
    )
    return this.units.map(({ cell: at, nth }) => {
      const cell = this.cells[at]
      const row = new Float64Array(width)
      const shortBy = [0]
      for (let day = 0; day < this.days; day += 1) {
        // A part of a cylinder may be short: cover is whole as a rule, not by definition.
        const lack = (cell?.cover[day] ?? 0) - (this.base[at]?.[day] ?? 0) - (nth - 1)
        shortBy.push((shortBy[day] ?? 0) + Math.min(1, Math.max(0, lack)))
      }
      const each = cell?.runOutPerDay ?? 0
      for (const [t, truck] of this.trucks.entries())
        row[t] = (standing[at]?.[t] ?? 0) + each * (shortBy[truck.day] ?? 0)
      row[width - 1] = each * (shortBy[this.days] ?? 0)
      return row
    })
  }

  /**
   * What empties save that go with each truck, by the day since which they wait: whichever takes them first takes all,
   * and the earlier they go the more is saved. So they are looked at as what is brought is, at a cost below nought.
   */
  private waiting(rooms: Rooms, backed: readonly number[]): Float64Array[] {
    const worth = this.cells.map((_, at) =>
      Array.from({ length: this.days }, (_, day) => this.emptyWorth(at, day, rooms)),
    )
    const rowOf = (since: number, worthOn: (day: number) => number) =>
      Float64Array.from([...this.trucks, null], (truck) =>
        truck?.takesEmpties && truck.day >= since ? -Math.max(0, worthOn(truck.day)) : 0,
      )
    const there = this.empties.map((days) => [...days])
    const own: Float64Array[] = []
    for (const [u, { cell: at }] of this.units.entries()) {
      const since = this.emptiedOn[u] ?? this.days
      const by = backed[u] ?? 0
      const days = there[at]
      if (since >= this.days || !days) continue
      if (by > 0) own.push(rowOf(since, (day) => (worth[at]?.[day] ?? 0) - by))
      else days[since] = (days[since] ?? 0) + 1
    }
    const together = Array.from({ length: this.days }, (_, since) =>
      rowOf(since, (day) =>
        there.reduce((sum, days, at) => sum + (days[since] ?? 0) * (worth[at]?.[day] ?? 0), 0),
      ),
    )
    return [...together, ...own].filter((row) => row.some((one) => one < 0))
  }

  private emptyWorth(at: number, day: number, rooms: Rooms): number {
    const cell = this.cells[at]
    if (!cell || day >= this.days) return 0
    const late = Math.max(0, this.days - Math.max(day, cell.demurrageFromDay))
    return (
      cell.rentPerDay * (this.days - day) +
      cell.demurragePerDay * late +
      this.roomCost(at, day, rooms)
    )
  }

  /** What a unit's empty saves that goes on a day. */
  emptySaves(u: number, day: number, rooms: Rooms): number {
    const since = this.emptiedOn[u] ?? this.days
    return since < this.days && day >= since
      ? this.emptyWorth(this.units[u]?.cell ?? -1, day, rooms)
      : 0
  }

  /** Room that a limit has on each day if nothing is done. */
  roomLeft(limit: PlanStorage): number[] {
    return Array.from({ length: this.days }, (_, day) =>
      this.cells.reduce((left, cell, at) => {
        if (!limit.gasIds.includes(cell.gasId)) return left
        const stands = (this.base[at]?.[day] ?? 0) + otherStanding(cell, day)
        return left - stands * storageEach(limit, cell.sizeId)
      }, limit.most),
    )
  }
}
