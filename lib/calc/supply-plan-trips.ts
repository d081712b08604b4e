import { cellKey } from './supply-plan-cost'
import { loadedTrip, type Trip, type TripUnit, tripLoss } from './supply-plan-trip-loads'
import { TripState } from './supply-plan-trip-state'
import type { PlanCell, PlanMove, PlanProblem, PlanRoute, SupplyPlan } from './supply-plan-types'

const MOST_TRIES = 150
/** Trips tried in vain one after the other, until no more are. */
const PATIENCE = 24

/**
 * Trips of own trucks between sites, one after the other: what a load saves of running short where it goes and costs
 * where it comes from is judged by the plans of both, the most promising is made, and both are planned anew. A trip
 * stays when their plans together are cheaper by more than it costs.
 */
class TripSearch {
  private readonly state: TripState
  private readonly refused = new Set<string>()
  /** Trips that were tried in vain: nothing waits for them. */
  private readonly closed = new Set<string>()
  /** Kept while nothing changes. */
  private readonly worthAt = new Map<string, { route: PlanRoute; worth: number }[]>()
  /** At first a cylinder goes where it is worth most; at the end wherever it is worth a trip. */
  private isWaiting = true

  constructor(
    private readonly problem: PlanProblem,
    gap: number,
  ) {
    this.state = new TripState(problem, gap)
  }

  /** The plan without trips, and each that is better; null after a trip that was tried in vain. */
  *run(): Generator<SupplyPlan | null, void> {
    for (const siteId of new Set(this.problem.cells.map((cell) => cell.siteId))) {
      if (!this.state.replan(siteId)) return
      yield null
    }
    yield this.state.joined()
    let inVain = 0
    for (let tries = 0; tries < MOST_TRIES && inVain < PATIENCE; tries += 1) {
      const trip = this.bestTrip()
      if (!trip && !this.isWaiting) break
      if (!trip) {
        this.isWaiting = false
        continue
      }
      const others = this.state.moves.filter(
        (move) => move !== this.state.madeOn(trip.route, trip.move.day),
      )
      const isBetter = this.state.change(trip.route, [...others, trip.move])
      inVain = isBetter ? 0 : inVain + 1
      if (isBetter) this.closed.clear()
      if (!isBetter) {
        this.refused.add(keyOf(trip.move))
        this.closed.add(`${trip.route.routeId}|${trip.move.day}`)
      }
      yield isBetter ? this.state.joined() : null
    }
    for (const move of this.state.moves) {
      const route = this.state.routes.get(move.routeId)
      const others = this.state.moves.filter((one) => one !== move)
      if (route && this.state.change(route, others)) yield this.state.joined()
    }
  }

  private bestTrip(): Trip | null {
    let best: Trip | null = null
    this.worthAt.clear()
    for (const route of this.problem.routes)
      for (let day = 0; day < this.problem.days; day += 1) {
        const made = this.state.madeOn(route, day)
        if (!this.state.mayRide(route, day) || this.closed.has(`${route.routeId}|${day}`)) continue
        const units = this.unitsOf(route, day)
        for (const papers of made ? [made.papers] : [false, true]) {
          if (!made && papers && this.state.hoursLeft(day, true) < route.hours) continue
          const trip = loadedTrip(this.state, route, { day, papers }, units)
          if (!trip || this.refused.has(keyOf(trip.move))) continue
          if (!best || trip.worth > best.worth) best = trip
        }
      }
    return best
  }

  /** What a cylinder is worth wherever else it could go: what is worth more there waits for that trip. */
  private elsewhere(from: PlanCell, except: PlanRoute): number {
    const key = cellKey(from.siteId, from.sizeId)
    const known =
      this.worthAt.get(key) ?? this.problem.routes.flatMap((route) => this.worthOn(route, from))
    this.worthAt.set(key, known)
    return Math.max(0, ...known.map(({ route, worth }) => (route === except ? 0 : worth)))
  }

  private worthOn(route: PlanRoute, from: PlanCell): { route: PlanRoute; worth: number }[] {
    const to = this.state.cellAt(route.toSiteId, from.sizeId)
    if (!to || route.fromSiteId !== from.siteId) return []
    const days = Array.from({ length: this.problem.days }, (_, day) =>
      !this.closed.has(`${route.routeId}|${day}`) && this.state.mayRide(route, day)
        ? this.state.gain(to, day, 1)
        : 0,
    )
    return [{ route, worth: Math.max(0, ...days) }]
  }

  /** What each further cylinder of each size would be worth on a trip. */
  private unitsOf(route: PlanRoute, day: number): TripUnit[] {
    const { cells, fleet } = this.problem
    const mostKg = Math.max(fleet.tradeKg, fleet.papersKg)
    return cells
      .filter((cell) => cell.siteId === route.fromSiteId)
      .flatMap((from) => {
        const to = this.state.cellAt(route.toSiteId, from.sizeId)
        if (!to || this.state.gain(to, day, 1) <= 0) return []
        const elsewhere = this.isWaiting ? this.elsewhere(from, route) : 0
        const most = Math.min(Math.floor(mostKg / from.grossKg), this.state.spare(from, day))
        const units: TripUnit[] = []
        for (let n = 1; n <= most; n += 1) {
          const gain = this.state.gain(to, day, n)
          const worth = gain - tripLoss(this.state, from, { day, n })
          if (worth <= 0 || gain < elsewhere) break
          units.push({ cell: from, worth })
        }
        return units
      })
      .sort((a, b) => b.worth / b.cell.grossKg - a.worth / a.cell.grossKg)
  }
}

const keyOf = ({ routeId, day, papers, lines }: PlanMove) =>
  `${routeId}|${day}|${papers}|${lines.map((line) => `${line.sizeId}:${line.quantity}`).join(' ')}`

/**
 * Plans of sites that own trucks link, each cheaper than the one before: trips are looked for one by one, each site is
 * planned truck by truck.
 *
 * @param problem of linked sites, cover priced
 * @param gap share of a site's cost within which its plan is good enough
 * @returns plans that keep every limit, none where a site has none; null after each step that was no better, so that
 *   whoever waits may be served between two
 */
export function tripPlans(problem: PlanProblem, gap: number): Generator<SupplyPlan | null, void> {
  return new TripSearch(problem, gap).run()
}
