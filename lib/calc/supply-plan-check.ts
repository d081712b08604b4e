import {
  type CellTrack,
  cellKey,
  cellTracks,
  cylindersOf,
  otherStanding,
  storageEach,
  storageLargest,
} from './supply-plan-cost'
import type {
  BrokenLimit,
  LimitKind,
  PlanProblem,
  PlanRoute,
  PlanSupplier,
  SupplyPlan,
} from './supply-plan-types'

const NEAR = 1e-6

type Known = Readonly<{
  problem: PlanProblem
  plan: SupplyPlan
  tracks: ReadonlyMap<string, CellTrack>
}>

const broken = (
  limit: LimitKind,
  where: { at: string; gasId?: string; day: number },
  by: number,
): BrokenLimit[] =>
  by > NEAR ? [{ limit, at: where.at, gasId: where.gasId ?? null, day: where.day, by }] : []

function ordersBreak({ problem, plan }: Known): BrokenLimit[] {
  const find = (order: SupplyPlan['orders'][number]): PlanSupplier | undefined =>
    problem.suppliers.find(
      (one) => one.supplierId === order.supplierId && one.siteId === order.siteId,
    )
  return plan.orders.flatMap((order) => {
    const where = { at: order.siteId, day: order.day }
    const supplier = find(order)
    const cylinders = cylindersOf(order.lines)
    if (!supplier) return broken('not_sold', where, cylinders)
    const unsold = order.lines.filter((line) => supplier.prices[line.sizeId] === undefined)
    return [
      ...broken('supplier_day', where, supplier.days.includes(order.day) ? 0 : 1),
      ...broken('supplier_least', where, cylinders > 0 ? supplier.least - cylinders : 0),
      ...broken('supplier_most', where, cylinders - supplier.most),
      ...broken('not_sold', where, cylindersOf(unsold)),
    ]
  })
}

function tripsBreak({ problem, plan }: Known): BrokenLimit[] {
  const { fleet } = problem
  const routes = new Map<string, PlanRoute>(problem.routes.map((one) => [one.routeId, one]))
  const gross = new Map(
    problem.cells.map((cell) => [cellKey(cell.siteId, cell.sizeId), cell.grossKg]),
  )
  const single = plan.moves.flatMap((move) => {
    const from = routes.get(move.routeId)?.fromSiteId ?? ''
    const eachKg = (sizeId: string) => gross.get(cellKey(from, sizeId)) ?? Number.POSITIVE_INFINITY
    const loadKg = move.lines.reduce((sum, line) => sum + line.quantity * eachKg(line.sizeId), 0)
    const heaviest = Math.max(0, ...move.lines.map((line) => eachKg(line.sizeId)))
    const where = { at: move.routeId, day: move.day }
    return [
      ...broken('truck_weight', where, loadKg - (move.papers ? fleet.papersKg : fleet.tradeKg)),
      ...broken('cylinder_weight', where, move.papers ? 0 : heaviest - fleet.tradeEachKg),
    ]
  })
  const hoursOn = (day: number, isPapers: boolean) =>
    plan.moves
      .filter((move) => move.day === day && (move.papers || !isPapers))
      .reduce((sum, move) => sum + (routes.get(move.routeId)?.hours ?? 0), 0)
  const byDay = Array.from({ length: problem.days }, (_, day) => [
    ...broken('driver_hours', { at: '', day }, hoursOn(day, false) - (fleet.driverHours[day] ?? 0)),
    ...broken(
      'trained_hours',
      { at: '', day },
      hoursOn(day, true) - (fleet.trainedHours[day] ?? 0),
    ),
  ])
  return [...single, ...byDay.flat()]
}

/** Nothing leaves that was not there the evening before, use until then taken off. */
function movesBreak({ problem, plan, tracks }: Known): BrokenLimit[] {
  const routes = new Map(problem.routes.map((route) => [route.routeId, route]))
  return problem.cells.flatMap((cell) => {
    const track = tracks.get(cellKey(cell.siteId, cell.sizeId))
    return Array.from({ length: problem.days }, (_, day) => {
      const out = plan.moves
        .filter((move) => move.day === day && routes.get(move.routeId)?.fromSiteId === cell.siteId)
        .flatMap((move) => move.lines)
        .filter((line) => line.sizeId === cell.sizeId)
      if (out.length === 0) return []
      const before =
        day === 0 ? cell.full : (track?.level[day - 1] ?? 0) - (cell.used[day - 1] ?? 0)
      const where = { at: cell.siteId, gasId: cell.gasId, day }
      return broken('not_there', where, cylindersOf(out) - before)
    }).flat()
  })
}

function returnsBreak({ problem, plan, tracks }: Known): BrokenLimit[] {
  const noTruck = plan.returns.flatMap((one) => {
    const comes = plan.orders.some((order) => order.siteId === one.siteId && order.day === one.day)
    return broken('no_truck', { at: one.siteId, day: one.day }, comes ? 0 : cylindersOf(one.lines))
  })
  const tooMany = problem.cells.flatMap((cell) => {
    const track = tracks.get(cellKey(cell.siteId, cell.sizeId))
    return (track?.returned ?? []).flatMap((gone, day) => {
      const before = day === 0 ? 0 : Math.min(cell.used[day - 1] ?? 0, track?.level[day - 1] ?? 0)
      const where = { at: cell.siteId, gasId: cell.gasId, day }
      return broken('empties', where, gone - cell.empty - Math.max(0, before))
    })
  })
  return [...noTruck, ...tooMany]
}

/** In cylinders of the largest size, since that is what has to go elsewhere. */
export function storageBreaks({ problem, tracks }: Omit<Known, 'plan'>): BrokenLimit[] {
  return problem.storage.flatMap((limit) => {
    const { siteId, gasIds, most } = limit
    const here = problem.cells.filter(
      (cell) => cell.siteId === siteId && gasIds.includes(cell.gasId),
    )
    const largest = storageLargest(limit, here)
    return Array.from({ length: problem.days }, (_, day) => {
      const there = here.reduce((sum, cell) => {
        const track = tracks.get(cellKey(cell.siteId, cell.sizeId))
        const stands =
          (track?.level[day] ?? 0) + otherStanding(cell, day) - (track?.returned[day] ?? 0)
        return sum + stands * storageEach(limit, cell.sizeId)
      }, 0)
      const where = { at: siteId, gasId: gasIds.join(' '), day }
      return broken('storage', where, (there - most) / largest)
    }).flat()
  })
}

function coverBreaks({ problem, tracks }: Known): BrokenLimit[] {
  if (problem.coverIs === 'priced') return []
  return problem.cells.flatMap((cell) => {
    const levels = tracks.get(cellKey(cell.siteId, cell.sizeId))?.level ?? []
    return levels.flatMap((level, day) =>
      broken('cover', { at: cell.siteId, gasId: cell.gasId, day }, (cell.cover[day] ?? 0) - level),
    )
  })
}

/**
 * Every limit that a plan breaks, judged from the plan alone.
 *
 * @returns none for a plan that may be carried out; storage that is over from the start is broken too
 */
export function brokenLimits(problem: PlanProblem, plan: SupplyPlan): BrokenLimit[] {
  const known = { problem, plan, tracks: cellTracks(problem, plan) }
  return [ordersBreak, tripsBreak, movesBreak, returnsBreak, storageBreaks, coverBreaks].flatMap(
    (breaks) => breaks(known),
  )
}
