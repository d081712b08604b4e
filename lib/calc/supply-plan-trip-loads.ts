import { cellKey, otherStanding, storageEach } from './supply-plan-cost'
import type { TripState } from './supply-plan-trip-state'
import type { PlanCell, PlanLine, PlanMove, PlanRoute } from './supply-plan-types'

const NEAR = 1e-6

export type Trip = Readonly<{ move: PlanMove; route: PlanRoute; worth: number }>
/** A further cylinder for a trip. */
export type TripUnit = Readonly<{ cell: PlanCell; worth: number }>

const unit = (value: number) => Math.min(1, Math.max(0, value))

/** What the n-th further cylinder saves where it goes: days short, and what the supplier need not bring later. */
export function tripGain(
  state: TripState,
  to: PlanCell,
  { day, n }: { day: number; n: number },
): number {
  const level = state.tracks.get(cellKey(to.siteId, to.sizeId))?.level ?? []
  let worth = 0
  for (let on = day; on < state.problem.days; on += 1)
    worth += to.runOutPerDay * unit((to.cover[on] ?? 0) - (level[on] ?? 0) - (n - 1))
  const later = state.sites
    .get(to.siteId)
    ?.plan.orders.filter((order) => order.day >= day)
    .flatMap((order) =>
      order.lines
        .filter((line) => line.sizeId === to.sizeId)
        .map((line) => ({ ...line, price: priceOf(state, to, order.supplierId) })),
    )
  const ordered = (later ?? []).reduce((sum, line) => sum + line.quantity, 0)
  return worth + (n <= ordered ? Math.min(...(later ?? []).map((line) => line.price)) : 0)
}

/** What the n-th cylinder costs where it is taken: days short without it, until a supplier could bring another. */
export function tripLoss(
  state: TripState,
  from: PlanCell,
  { day, n }: { day: number; n: number },
): number {
  const level = state.tracks.get(cellKey(from.siteId, from.sizeId))?.level ?? []
  const shortOn = (on: number) =>
    from.runOutPerDay * unit((from.cover[on] ?? 0) - (level[on] ?? 0) + n)
  let never = 0
  for (let on = day; on < state.problem.days; on += 1) never += shortOn(on)
  const again = state.problem.suppliers
    .filter((one) => one.siteId === from.siteId && one.prices[from.sizeId] !== undefined)
    .flatMap((one) => one.days.map((on) => ({ on, price: one.prices[from.sizeId] ?? 0 })))
    .map(({ on, price }) => {
      let until = 0
      for (let short = day; short < on; short += 1) until += shortOn(short)
      return until + price
    })
  return Math.min(never, ...again)
}

function priceOf(state: TripState, cell: PlanCell, supplierId: string): number {
  const supplier = state.problem.suppliers.find(
    (one) => one.supplierId === supplierId && one.siteId === cell.siteId,
  )
  return supplier?.prices[cell.sizeId] ?? 0
}

/** The most worth by weight, as long as it may ride and has room until the next truck takes empties. */
export function loadedTrip(
  state: TripState,
  route: PlanRoute,
  { day, papers }: { day: number; papers: boolean },
  units: readonly TripUnit[],
): Trip | null {
  const { fleet } = state.problem
  const rooms = roomsAt(state, route.toSiteId, day)
  const made = state.madeOn(route, day)
  let worth = made ? 0 : -route.tripCost
  let leftKg = papers ? fleet.papersKg : fleet.tradeKg
  const counts = new Map<string, { line: PlanLine; quantity: number }>()
  for (const line of made?.lines ?? []) {
    leftKg -= line.quantity * (state.cellAt(route.fromSiteId, line.sizeId)?.grossKg ?? 0)
    counts.set(line.sizeId, { line, quantity: line.quantity })
  }
  const before = leftKg
  for (const { cell, worth: each } of units) {
    if (cell.grossKg > leftKg + NEAR || (!papers && cell.grossKg > fleet.tradeEachKg)) continue
    const here = rooms.filter(({ limit }) => limit.gasIds.includes(cell.gasId))
    if (here.some(({ limit, left }) => left < storageEach(limit, cell.sizeId) - NEAR)) continue
    for (const room of here) room.left -= storageEach(room.limit, cell.sizeId)
    leftKg -= cell.grossKg
    worth += each
    const line = { gasId: cell.gasId, sizeId: cell.sizeId, quantity: 1 }
    const known = counts.get(cell.sizeId)
    if (known) known.quantity += 1
    else counts.set(cell.sizeId, { line, quantity: 1 })
  }
  if (leftKg === before || worth <= NEAR) return null
  const lines = [...counts.values()].map(({ line, quantity }) => ({ ...line, quantity }))
  return { route, worth, move: { routeId: route.routeId, day, papers, lines } }
}

function roomsAt(state: TripState, siteId: string, day: number) {
  const { problem, plan } = state.sites.get(siteId) ?? {}
  const next = Math.min(
    state.problem.days,
    ...(plan?.orders ?? []).map((order) => order.day).filter((on) => on > day),
  )
  return (problem?.storage ?? []).map((limit) => {
    const here = (problem?.cells ?? []).filter((cell) => limit.gasIds.includes(cell.gasId))
    const left = Array.from({ length: Math.max(1, next - day) }, (_, i) =>
      here.reduce((sum, cell) => {
        const track = state.tracks.get(cellKey(cell.siteId, cell.sizeId))
        const stands =
          (track?.level[day + i] ?? 0) +
          otherStanding(cell, day + i) -
          (track?.returned[day + i] ?? 0)
        return sum - stands * storageEach(limit, cell.sizeId)
      }, limit.most),
    )
    return { limit, left: Math.min(...left) }
  })
}
