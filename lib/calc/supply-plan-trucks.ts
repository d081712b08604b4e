import { ascendedCost } from './supply-plan-ascent'
import type { Rooms, SiteUnits } from './supply-plan-units'

/** Which trucks come, each at which of its prices, and what each brings. */
export type TruckChoice = Readonly<{
  /** By truck: null, or the option it comes at. */
  options: readonly (number | null)[]
  /** By unit: its truck, or -1 for never. */
  assigned: readonly number[]
  /** Of a cell bought beyond what is short, so that an order is large enough: by truck. */
  extra: readonly Readonly<{ truck: number; cell: number; quantity: number }>[]
  cost: number
}>

const MOST_NODES = 6000
const MOST_KEPT = 8
const NEAR = 1e-7

/** How an order that is too small for its price is made large enough, or given up. */
type Mended = {
  cost: number
  moves: { unit: number; to: number }[]
  extra: { cell: number; quantity: number } | null
}

/**
 * The best choices of trucks for one site, room priced or left out of account, by branch and bound: trucks in order
 * of their days, each not at all or at one of its prices.
 *
 * @returns the cheapest choices found, least first, and a cost below which none can be
 */
export class TruckSearch {
  private readonly costs: Float64Array[]
  /** Least that a unit costs with any truck from the k-th on, at its lowest price. */
  private readonly ahead: Float64Array[]
  private readonly best: Float64Array[]
  private readonly chosen: (number | null)[]
  private kept: TruckChoice[] = []
  private nodes = 0
  private bound = Number.POSITIVE_INFINITY
  private readonly lowest: Float64Array[]
  private readonly fees: Float64Array
  private readonly cheapestExtra: { cell: number; cost: number }[]

  constructor(
    private readonly site: SiteUnits,
    rooms: Rooms,
    backed: readonly number[] = [],
  ) {
    const { trucks, units } = site
    this.costs = site.costs(rooms, backed)
    const rows = this.costs.length
    const offs = trucks.map(({ options }) => Math.max(0, ...options.map((one) => one.off)))
    // What empties save has no price that a break could lower.
    this.lowest = this.costs.map((row, u) =>
      u < units.length ? Float64Array.from(offs, (off, t) => (row[t] ?? 0) - off) : row,
    )
    this.fees = Float64Array.from(trucks, ({ fee }) => fee)
    const never = trucks.length
    this.best = trucks.map(() => new Float64Array(rows))
    this.best.unshift(Float64Array.from(this.costs, (row) => row[never] ?? 0))
    this.ahead = trucks.map(() => new Float64Array(rows))
    this.ahead.push(new Float64Array(rows).fill(Number.POSITIVE_INFINITY))
    for (let t = trucks.length - 1; t >= 0; t -= 1)
      for (let u = 0; u < rows; u += 1)
        (this.ahead[t] as Float64Array)[u] = Math.min(
          this.ahead[t + 1]?.[u] ?? 0,
          this.lowest[u]?.[t] ?? 0,
        )
    this.chosen = trucks.map(() => null)
    this.cheapestExtra = trucks.map(({ supplier, day }) =>
      site.cells.reduce(
        (least, cell, at) => {
          const price = supplier.prices[cell.sizeId]
          if (price === undefined) return least
          const cost =
            price + cell.rentPerDay * (site.problem.days - day) + site.roomCost(at, day, rooms)
          return cost < least.cost ? { cell: at, cost } : least
        },
        { cell: -1, cost: Number.POSITIVE_INFINITY },
      ),
    )
  }

  run(): { choices: readonly TruckChoice[]; bound: number } {
    this.leaf(0, 0)
    this.visit(0, 0)
    const least = this.kept[0]?.cost ?? Number.POSITIVE_INFINITY
    return { choices: this.kept, bound: Math.min(this.bound, least) }
  }

  private visit(k: number, spent: number): void {
    const { trucks, units } = this.site
    const now = this.best[k] as Float64Array
    const ahead = this.ahead[k] as Float64Array
    let low = spent
    for (let u = 0; u < now.length; u += 1) low += Math.min(now[u] as number, ahead[u] as number)
    const best = (this.kept[0]?.cost ?? Number.POSITIVE_INFINITY) - NEAR
    if (low >= best) return
    if (k < trucks.length) {
      const { lowest: costs, fees } = this
      low = Math.max(low, spent + ascendedCost({ costs, fees, from: k, now }))
      if (low >= best) return
    }
    if (k === trucks.length) {
      this.leaf(k, spent)
      return
    }
    this.nodes += 1
    if (this.nodes > MOST_NODES) {
      this.bound = Math.min(this.bound, low)
      return
    }
    const truck = trucks[k]
    if (!truck) return
    const next = this.best[k + 1] as Float64Array
    for (let option = truck.options.length - 1; option >= 0; option -= 1) {
      const off = truck.options[option]?.off ?? 0
      for (let u = 0; u < now.length; u += 1) {
        const cost = ((this.costs[u] as Float64Array)[k] as number) - (u < units.length ? off : 0)
        next[u] = Math.min(now[u] as number, cost)
      }
      this.chosen[k] = option
      this.visit(k + 1, spent + truck.fee)
    }
    next.set(now)
    this.chosen[k] = null
    this.visit(k + 1, spent)
  }

  /** All trucks are decided: what each brings, and what it costs to make small orders large enough. */
  private leaf(k: number, spent: number): void {
    const { trucks, units } = this.site
    const never = trucks.length
    const open = trucks.flatMap((_, t) => (t < k && this.chosen[t] !== null ? [t] : []))
    const costOf = (u: number, t: number) =>
      ((this.costs[u] as Float64Array)[t] as number) -
      (t === never ? 0 : (trucks[t]?.options[this.chosen[t] ?? 0]?.off ?? 0))
    const assigned = new Array<number>(units.length).fill(-1)
    const second = new Float64Array(units.length)
    const bestNow = new Float64Array(units.length)
    const saved = this.costs.slice(units.length)
    let cost = saved.reduce((sum, row) => sum + Math.min(0, ...open.map((t) => row[t] ?? 0)), spent)
    for (let u = 0; u < units.length; u += 1) {
      let [least, next, at] = [costOf(u, never), Number.POSITIVE_INFINITY, -1]
      for (const t of open) {
        const one = costOf(u, t)
        if (one < least) {
          next = least
          least = one
          at = t
        } else if (one < next) next = one
      }
      assigned[u] = at
      second[u] = next
      bestNow[u] = least
      cost += least
    }
    const mends = open.flatMap((t) => {
      const mended = this.mend(t, { assigned, second, bestNow, costOf, open })
      return mended ? [{ truck: t, ...mended }] : []
    })
    // One alone must at least be mended: a bound. All of them together are a plan.
    cost += Math.max(0, ...mends.map((one) => one.cost))
    for (const mended of mends) for (const move of mended.moves) assigned[move.unit] = move.to
    this.keep({
      options: trucks.map((_, t) => (t < k ? (this.chosen[t] ?? null) : null)),
      assigned,
      extra: mends.flatMap(({ truck, extra }) => (extra ? [{ truck, ...extra }] : [])),
      cost,
    })
  }

  private mend(
    truck: number,
    known: Readonly<{
      assigned: readonly number[]
      second: Float64Array
      bestNow: Float64Array
      costOf: (u: number, t: number) => number
      open: readonly number[]
    }>,
  ): Mended | null {
    const { assigned, second, bestNow, costOf, open } = known
    const option = this.chosen[truck] ?? 0
    const from = this.site.trucks[truck]?.options[option]?.from ?? 1
    const own = assigned.flatMap((t, u) => (t === truck ? [u] : []))
    if (own.length >= from || (own.length === 0 && option === 0)) return null
    const wanted = from - own.length
    const { cell, cost: each } = this.cheapestExtra[truck] ?? {
      cell: -1,
      cost: Number.POSITIVE_INFINITY,
    }
    const off = this.site.trucks[truck]?.options[option]?.off ?? 0
    const deltas = assigned
      .flatMap((t, u) =>
        t === truck ? [] : [{ unit: u, cost: costOf(u, truck) - (bestNow[u] as number) }],
      )
      .filter((one) => one.cost < each - off)
      .sort((a, b) => a.cost - b.cost)
      .slice(0, wanted)
    const bought = wanted - deltas.length
    const up: Mended = {
      cost:
        deltas.reduce((sum, one) => sum + one.cost, 0) + (bought > 0 ? bought * (each - off) : 0),
      moves: deltas.map(({ unit }) => ({ unit, to: truck })),
      extra: bought > 0 ? { cell, quantity: bought } : null,
    }
    if (option > 0) return up
    // Or it brings nothing, and comes for empties alone.
    const nextOf = (u: number) => {
      const others = open.filter((t) => t !== truck && costOf(u, t) <= (second[u] as number) + NEAR)
      return others[0] ?? -1
    }
    const down: Mended = {
      cost: own.reduce((sum, u) => sum + (second[u] as number) - (bestNow[u] as number), 0),
      moves: own.map((unit) => ({ unit, to: nextOf(unit) })),
      extra: null,
    }
    return down.cost < up.cost ? down : up
  }

  private keep(choice: TruckChoice): void {
    const at = this.kept.findIndex((one) => one.cost > choice.cost)
    if (at < 0 && this.kept.length >= MOST_KEPT) return
    this.kept.splice(at < 0 ? this.kept.length : at, 0, choice)
    this.kept.length = Math.min(this.kept.length, MOST_KEPT)
  }
}
