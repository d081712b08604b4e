import { brokenLimits } from './supply-plan-check'
import { type CellTrack, cellKey, cellTracks, planCost } from './supply-plan-cost'
import { greedyPlan } from './supply-plan-greedy'
import { siteWithMoves } from './supply-plan-linked'
import { planSite } from './supply-plan-site'
import { tripGain } from './supply-plan-trip-loads'
import type { PlanCell, PlanMove, PlanProblem, PlanRoute, SupplyPlan } from './supply-plan-types'

const NEAR = 1e-6
/** Where the plan truck by truck is further from its bound than this, the one made at once may be better. */
const WIDE = 0.02

/** Prices of room tried for each end of a trip: many ends are planned. */
const ROUNDS = 4
/** Of a size, bought where a trip starts for where it goes. */
const MOST_BOUGHT = 12

type SiteState = Readonly<{ problem: PlanProblem; plan: SupplyPlan; cost: number }>

/** The cheapest plan of one site that keeps its limits, its own trucks' trips settled; null where none was found. */
function siteState(problem: PlanProblem, gap: number): SiteState | null {
  const found = planSite(problem, gap, { rounds: ROUNDS })
  if (found?.plan && found.cost - found.bound <= WIDE * found.cost)
    return { problem, plan: found.plan, cost: found.cost }
  const atOnce = greedyPlan(problem)
  const cost = planCost(problem, atOnce).total
  const isKept = brokenLimits(problem, atOnce).length === 0
  if (found?.plan && (found.cost <= cost || !isKept))
    return { problem, plan: found.plan, cost: found.cost }
  return isKept ? { problem, plan: atOnce, cost } : null
}

/** Linked sites while trips are looked for: each site's plan under the trips made so far, and what is left of hours. */
export class TripState {
  readonly sites = new Map<string, SiteState>()
  readonly tracks = new Map<string, CellTrack>()
  readonly cells: ReadonlyMap<string, PlanCell>
  readonly routes: ReadonlyMap<string, PlanRoute>
  moves: readonly PlanMove[] = []
  private readonly gains = new Map<string, Map<number, number>>()

  constructor(
    readonly problem: PlanProblem,
    private readonly gap: number,
  ) {
    this.routes = new Map(problem.routes.map((route) => [route.routeId, route]))
    this.cells = new Map(problem.cells.map((cell) => [cellKey(cell.siteId, cell.sizeId), cell]))
  }

  joined(): SupplyPlan {
    const plans = [...this.sites.values()].map((one) => one.plan)
    return {
      orders: plans.flatMap((one) => one.orders),
      moves: this.moves,
      returns: plans.flatMap((one) => one.returns),
    }
  }

  private setState(siteId: string, state: SiteState): void {
    this.sites.set(siteId, state)
    for (const [key, track] of cellTracks(state.problem, state.plan)) {
      this.tracks.set(key, track)
      this.gains.delete(key)
    }
  }

  replan(siteId: string, moves = this.moves): SiteState | null {
    const state = siteState(siteWithMoves(this.problem, siteId, moves), this.gap)
    if (state) this.setState(siteId, state)
    return state
  }

  /** Both ends of a route planned anew with other trips; taken back where that is no better. */
  change(route: PlanRoute, moves: readonly PlanMove[]): boolean {
    const ends = [route.fromSiteId, route.toSiteId]
    const before = ends.map((siteId) => this.sites.get(siteId))
    const costOf = (states: readonly (SiteState | null | undefined)[]) =>
      states.reduce((sum, one) => sum + (one?.cost ?? Number.POSITIVE_INFINITY), 0)
    const trips = (moves.length - this.moves.length) * route.tripCost
    const after = ends.map((siteId) => this.replan(siteId, moves))
    if (costOf(after) + trips < costOf(before) - NEAR && this.allThere(moves)) {
      this.moves = moves
      return true
    }
    for (const [i, siteId] of ends.entries()) {
      const state = before[i]
      if (state) this.setState(siteId, state)
    }
    return false
  }

  /** Nothing leaves that was not there the evening before. */
  allThere(moves: readonly PlanMove[]): boolean {
    return this.problem.cells.every((cell) =>
      Array.from({ length: this.problem.days }).every((_, day) => {
        const gone = this.outOf(cell, day, moves)
        return gone === 0 || gone <= this.there(cell, day) + NEAR
      }),
    )
  }

  /** What trips take of a cell on a day. */
  outOf(cell: PlanCell, day: number, moves = this.moves): number {
    return moves.reduce((sum, move) => {
      if (move.day !== day || this.routes.get(move.routeId)?.fromSiteId !== cell.siteId) return sum
      return sum + (move.lines.find((line) => line.sizeId === cell.sizeId)?.quantity ?? 0)
    }, 0)
  }

  /** Full the evening before a day. */
  there(cell: PlanCell, day: number): number {
    if (day === 0) return cell.full
    const level = this.tracks.get(cellKey(cell.siteId, cell.sizeId))?.level[day - 1] ?? 0
    return level - (cell.used[day - 1] ?? 0)
  }

  hoursLeft(day: number, isPapers: boolean): number {
    const { fleet } = this.problem
    const gone = this.moves
      .filter((move) => move.day === day && (move.papers || !isPapers))
      .reduce((sum, { routeId }) => sum + (this.routes.get(routeId)?.hours ?? 0), 0)
    return ((isPapers ? fleet.trainedHours : fleet.driverHours)[day] ?? 0) - gone
  }

  madeOn(route: PlanRoute, day: number): PlanMove | undefined {
    return this.moves.find((move) => move.routeId === route.routeId && move.day === day)
  }

  mayRide(route: PlanRoute, day: number): boolean {
    return this.madeOn(route, day) !== undefined || this.hoursLeft(day, false) >= route.hours
  }

  cellAt(siteId: string, sizeId: string): PlanCell | undefined {
    return this.cells.get(cellKey(siteId, sizeId))
  }

  /** What may leave on a day without taking what a later trip counts on. */
  spare(cell: PlanCell, day: number): number {
    // Where use has passed what was there, what is left is not known to be spare.
    const before = cell.fixedIn.slice(0, day).reduce((sum, one) => sum + one, cell.full)
    if (before < (cell.used[day - 1] ?? 0)) return 0
    const outOn = (on: number) => this.outOf(cell, on)
    let least = this.there(cell, day) - outOn(day)
    for (let later = day + 1; later < this.problem.days; later += 1) {
      const quantity = outOn(later)
      if (quantity > 0) least = Math.min(least, this.there(cell, later) - quantity)
    }
    return Math.floor(least + NEAR) + (this.isSoldBefore(cell, day) ? MOST_BOUGHT : 0)
  }

  /** Whether a supplier could bring it in time to be taken along on a day. */
  private isSoldBefore({ siteId, sizeId }: PlanCell, day: number): boolean {
    return this.problem.suppliers.some(
      (one) =>
        one.siteId === siteId &&
        one.prices[sizeId] !== undefined &&
        one.days.some((on) => on < day),
    )
  }

  /** `tripGain`, kept until the site is planned anew. */
  gain(to: PlanCell, day: number, n: number): number {
    const key = cellKey(to.siteId, to.sizeId)
    const known = this.gains.get(key) ?? new Map<number, number>()
    this.gains.set(key, known)
    const at = n * this.problem.days + day
    const worth = known.get(at) ?? tripGain(this, to, { day, n })
    known.set(at, worth)
    return worth
  }
}
