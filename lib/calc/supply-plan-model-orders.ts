import type { MilpTerm } from './milp'
import type { OrderColumns } from './supply-plan-columns'
import { cellKey } from './supply-plan-cost'
import { MOST_OF_A_SIZE, type PlanModelDraft } from './supply-plan-draft'
import type { PlanSupplier } from './supply-plan-types'

/** The most of a cell that an order could be for: what is short later, here and where trucks could take it. */
function mostUseful(model: PlanModelDraft, at: number, day: number): number {
  const needAt = (index: number) => {
    const cell = model.problem.cells[index]
    const base = model.base[index] ?? []
    return Math.max(0, ...base.slice(day).map((level, i) => (cell?.cover[day + i] ?? 0) - level))
  }
  const cell = model.problem.cells[at]
  if (!cell) return 0
  const manifold = model.problem.manifolds
    .filter((need) => need.siteId === cell.siteId && need.gasId === cell.gasId)
    .map((need) => {
      const base = model.base[at] ?? []
      const lacks = base.map(
        (level, i) => (need.least[i] ?? 0) - (level - (cell.used[i] ?? 0) + cell.inUse),
      )
      return Math.max(0, ...lacks)
    })
  const elsewhere = model.problem.routes
    .filter((route) => route.fromSiteId === cell.siteId)
    .map((route) => model.index.get(cellKey(route.toSiteId, cell.sizeId)))
    .map((index) => (index === undefined ? 0 : needAt(index)))
  return [needAt(at), ...manifold, ...elsewhere].reduce((sum, one) => sum + one, 0)
}

/** A truck that may come, and what it may bring. */
export function addOrder(model: PlanModelDraft, supplier: PlanSupplier, day: number): void {
  const { problem, program } = model
  program.about = supplier.siteId
  const here = model.bySite.get(supplier.siteId) ?? []
  const sold = here.filter((at) => {
    const cell = problem.cells[at]
    return cell && supplier.prices[cell.sizeId] !== undefined
  })
  // A minimum or a break may be worth more than is needed.
  const beyond = Math.max(supplier.least, ...supplier.breaks.map((one) => one.from), 0)
  const useful = new Map(sold.map((at) => [at, mostUseful(model, at, day)]))
  const wanted = [...useful.values()].reduce((sum, one) => sum + one, 0)
  const truck = program.whole(model.priced(supplier.fee), 1)
  const trucks = model.trucks.get(`${supplier.siteId}|${day}`) ?? []
  if (supplier.takesEmpties !== false)
    model.trucks.set(`${supplier.siteId}|${day}`, [...trucks, truck])
  const lines = sold.flatMap((at) => {
    const cell = problem.cells[at]
    const want = useful.get(at) ?? 0
    const top = Math.min(
      MOST_OF_A_SIZE,
      supplier.most,
      want + (wanted > 0 && beyond > 1 ? beyond : 0),
    )
    if (!cell || top <= 0) return []
    const price = supplier.prices[cell.sizeId] ?? 0
    const cost = price + cell.rentPerDay * (problem.days - day)
    const column = program.whole(model.priced(cost), top)
    model.flows[at]?.push({ day, column, sign: 1 })
    model.truckOf.set(column, truck)
    program.row(
      [
        [column, 1],
        [truck, -top],
      ],
      { most: 0 },
    )
    return [{ cell: at, column }]
  })
  const total: MilpTerm[] = lines.map(({ column }) => [column, 1])
  const bands = addBands(model, supplier, day, { truck, total })
  model.orders.push({ supplier, day, truck, lines, bands })
}

/** Which break is reached: each band has its own count, and only one is in. An empty truck may come for empties. */
function addBands(
  model: PlanModelDraft,
  supplier: PlanSupplier,
  day: number,
  { truck, total }: { truck: number; total: readonly MilpTerm[] },
): OrderColumns['bands'] {
  const { program } = model
  const where = { at: supplier.siteId, gasId: null, day }
  if (total.length === 0) return []
  if (supplier.breaks.length === 0 && supplier.least <= 1) {
    model.limited(
      [...total, [truck, -supplier.most]],
      { most: 0 },
      { limit: 'supplier_most', ...where },
    )
    return []
  }
  const steps = [
    { from: Math.max(1, supplier.least), off: 0 },
    ...supplier.breaks.filter((one) => one.from > Math.max(1, supplier.least)),
  ]
  const passed = supplier.breaks.filter((one) => one.from <= Math.max(1, supplier.least)).at(-1)
  const bands = steps.map(({ from, off }, i) => {
    const most = Math.min(supplier.most, (steps[i + 1]?.from ?? Number.POSITIVE_INFINITY) - 1)
    const isIn = program.whole(0, 1)
    const cylinders = program.column(model.priced(-(i === 0 ? (passed?.off ?? 0) : off)), most)
    program.row(
      [
        [cylinders, 1],
        [isIn, -most],
      ],
      { most: 0 },
    )
    model.limited(
      [
        [cylinders, 1],
        [isIn, -from],
      ],
      { least: 0 },
      { limit: 'supplier_least', ...where },
    )
    return { from, isIn, cylinders }
  })
  program.row([...bands.map(({ isIn }): MilpTerm => [isIn, 1]), [truck, -1]], { most: 0 })
  program.row([...total, ...bands.map(({ cylinders }): MilpTerm => [cylinders, -1])], {
    least: 0,
    most: 0,
  })
  return bands
}
