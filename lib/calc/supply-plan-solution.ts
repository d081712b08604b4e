import type { PlanModel } from './supply-plan-columns'
import { cellKey, cellTracks, cylindersOf, manifoldShort } from './supply-plan-cost'
import type { BrokenLimit, PlanLine, PlanProblem, SupplyPlan } from './supply-plan-types'

/** Reads a solution of the program back as a plan. */
export function planOf(
  problem: PlanProblem,
  model: PlanModel,
  values: ArrayLike<number>,
): SupplyPlan {
  const lineOf = (cell: number, column: number): PlanLine[] => {
    const quantity = Math.round(values[column] ?? 0)
    const known = problem.cells[cell]
    return quantity > 0 && known ? [{ gasId: known.gasId, sizeId: known.sizeId, quantity }] : []
  }
  const isSet = (column: number) => (values[column] ?? 0) > 0.5
  const orders = model.orders
    .filter(({ truck }) => isSet(truck))
    .map(({ supplier, day, lines }) => ({
      supplierId: supplier.supplierId,
      siteId: supplier.siteId,
      day,
      lines: lines.flatMap(({ cell, column }) => lineOf(cell, column)),
    }))
  const moves = model.moves
    .filter(({ trade, papers }) => isSet(trade) || isSet(papers))
    .map(({ route, day, papers, lines }) => ({
      routeId: route.routeId,
      day,
      papers: isSet(papers),
      lines: lines.flatMap(({ from, column }) => lineOf(from, column)),
    }))
    .filter(({ lines }) => lines.length > 0)
  const gone = new Map<string, { siteId: string; day: number; lines: PlanLine[] }>()
  for (const { cell, day, column } of model.returns) {
    const siteId = problem.cells[cell]?.siteId ?? ''
    const lines = lineOf(cell, column)
    if (lines.length === 0) continue
    const known = gone.get(`${siteId}|${day}`)
    if (known) known.lines.push(...lines)
    else gone.set(`${siteId}|${day}`, { siteId, day, lines })
  }
  // A truck that brings nothing and takes nothing need not come.
  const isUseful = (order: SupplyPlan['orders'][number]) =>
    order.lines.length > 0 || gone.has(`${order.siteId}|${order.day}`)
  return { orders: orders.filter(isUseful), moves, returns: [...gone.values()] }
}

/**
 * A plan as values of the program's columns: where the solver starts from.
 *
 * @returns values in column order; what the plan does and the program has no column for is left out
 */
export function valuesOf(problem: PlanProblem, model: PlanModel, plan: SupplyPlan): Float64Array {
  const values = new Float64Array(model.milp.cost.length)
  const quantityIn = (lines: readonly PlanLine[] | undefined, cell: number) =>
    cylindersOf((lines ?? []).filter((line) => line.sizeId === problem.cells[cell]?.sizeId))
  for (const { supplier, day, truck, lines, bands } of model.orders) {
    const order = plan.orders.find(
      (one) =>
        one.supplierId === supplier.supplierId && one.siteId === supplier.siteId && one.day === day,
    )
    if (!order) continue
    values[truck] = 1
    for (const { cell, column } of lines) values[column] = quantityIn(order.lines, cell)
    const cylinders = cylindersOf(order.lines)
    const band = bands.filter((one) => cylinders >= one.from).at(-1)
    if (band && cylinders > 0) {
      values[band.isIn] = 1
      values[band.cylinders] = cylinders
    }
  }
  for (const { route, day, trade, papers, lines } of model.moves) {
    const move = plan.moves.find((one) => one.routeId === route.routeId && one.day === day)
    if (!move) continue
    values[move.papers ? papers : trade] = 1
    for (const { from, column } of lines) values[column] = quantityIn(move.lines, from)
  }
  for (const { cell, day, column } of model.returns) {
    const siteId = problem.cells[cell]?.siteId
    const one = plan.returns.find((back) => back.siteId === siteId && back.day === day)
    values[column] = quantityIn(one?.lines, cell)
  }
  const tracks = cellTracks(problem, plan)
  for (const { cell, day, column } of model.coverShort) {
    const known = problem.cells[cell]
    const level = known && tracks.get(cellKey(known.siteId, known.sizeId))?.level[day]
    values[column] = Math.max(0, (known?.cover[day] ?? 0) - (level ?? 0))
  }
  for (const { need, day, column } of model.manifoldShort) {
    const known = problem.manifolds[need]
    values[column] = known ? manifoldShort(problem, known, tracks, day) : 0
  }
  return values
}

/** The limits that must give way, by a solution of the relaxed program; each by the most of its days. */
export function limitsToRelax(model: PlanModel, values: ArrayLike<number>): BrokenLimit[] {
  const most = new Map<string, BrokenLimit>()
  for (const { column, limit } of model.slacks) {
    const by = values[column] ?? 0
    if (by <= 1e-6) continue
    const key = `${limit.limit}|${limit.at}|${limit.gasId}`
    const known = most.get(key)
    if (!known || known.by < by) most.set(key, { ...limit, by })
  }
  return [...most.values()]
}
