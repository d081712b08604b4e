import { type Milp, MilpBuilder, type MilpTerm } from './milp'
import { cellCost, cellKey, storageEach, storageLargest } from './supply-plan-cost'
import type {
  BrokenLimit,
  LimitKind,
  PlanCell,
  PlanProblem,
  PlanRoute,
  PlanSupplier,
} from './supply-plan-types'

/** What columns stand for, so that a solution is read back as a plan. */
export type OrderColumns = Readonly<{
  supplier: PlanSupplier
  day: number
  /** Whether the truck comes. */
  truck: number
  lines: readonly Readonly<{ cell: number; column: number }>[]
  /** Which break the order reaches, and with how many cylinders. Empty where one price holds. */
  bands: readonly Readonly<{ from: number; isIn: number; cylinders: number }>[]
}>
export type MoveColumns = Readonly<{
  route: PlanRoute
  day: number
  trade: number
  papers: number
  lines: readonly Readonly<{ from: number; to: number; column: number }>[]
}>
export type ReturnColumn = Readonly<{ cell: number; day: number; column: number }>
/** Where a limit may give way, in the program that asks which must. */
export type SlackColumn = Readonly<{ column: number; limit: Omit<BrokenLimit, 'by'> }>

export type PlanModel = Readonly<{
  milp: Milp
  orders: readonly OrderColumns[]
  moves: readonly MoveColumns[]
  returns: readonly ReturnColumn[]
  /** Shortages: of a cell's cover, and of a manifold, by day. */
  coverShort: readonly Readonly<{ cell: number; day: number; column: number }>[]
  manifoldShort: readonly Readonly<{ need: number; day: number; column: number }>[]
  slacks: readonly SlackColumn[]
}>

/** What a limit's giving way costs beside another's: hours and kilograms are not cylinders. */
const SLACK_COST: Partial<Record<LimitKind, number>> = { truck_weight: 0.02, driver_hours: 0.5 }
const MOST_OF_A_SIZE = 200

class PlanModelBuilder {
  readonly program = new MilpBuilder()
  readonly orders: OrderColumns[] = []
  readonly moves: MoveColumns[] = []
  readonly returns: ReturnColumn[] = []
  readonly coverShort: { cell: number; day: number; column: number }[] = []
  readonly manifoldShort: { need: number; day: number; column: number }[] = []
  readonly slacks: SlackColumn[] = []
  private readonly index = new Map<string, number>()
  private readonly bySite = new Map<string, number[]>()
  /** What comes to and leaves each cell, by day. */
  private readonly flows: { day: number; column: number; sign: 1 | -1 }[][]
  private readonly gone: { day: number; column: number }[][]
  /** The truck that brings what a column orders. */
  private readonly truckOf = new Map<number, number>()
  private readonly trucks = new Map<string, number[]>()
  /** Cells that a truck may take from on a day, and what is spare there if nothing is done. */
  private readonly spare = new Map<string, { from: number; day: number; before: number }>()
  /** Full at the end of each day, if nothing is done. */
  private readonly base: number[][]

  constructor(
    private readonly problem: PlanProblem,
    private readonly isElastic: boolean,
  ) {
    this.flows = problem.cells.map(() => [])
    this.gone = problem.cells.map(() => [])
    for (const [at, cell] of problem.cells.entries()) {
      this.index.set(cellKey(cell.siteId, cell.sizeId), at)
      const here = this.bySite.get(cell.siteId)
      if (here) here.push(at)
      else this.bySite.set(cell.siteId, [at])
    }
    this.base = problem.cells.map((cell) => {
      let level = cell.full
      return Array.from({ length: problem.days }, (_, day) => {
        level += cell.fixedIn[day] ?? 0
        return level
      })
    })
  }

  build(): PlanModel {
    const { problem } = this
    for (const supplier of problem.suppliers)
      for (const day of supplier.days) if (day < problem.days) this.addOrder(supplier, day)
    for (const route of problem.routes)
      for (let day = 0; day < problem.days; day += 1) this.addMove(route, day)
    this.addHours()
    this.addReturns()
    this.addCover()
    this.addManifolds()
    this.addStorage()
    for (const [at, cell] of problem.cells.entries()) {
      const level = this.base[at] ?? []
      const { rent, demurrage } = cellCost(cell, { level, returned: level.map(() => 0) })
      if (!this.isElastic) this.program.offset += rent + demurrage
    }
    const { orders, moves, returns, coverShort, manifoldShort, slacks } = this
    return {
      milp: this.program.build(),
      orders,
      moves,
      returns,
      coverShort,
      manifoldShort,
      slacks,
    }
  }

  /** Costs count only where a plan is looked for; where limits are asked about, only their giving way does. */
  private priced(cost: number): number {
    return this.isElastic ? 0 : cost
  }

  private limited(
    terms: readonly MilpTerm[],
    bounds: { least?: number; most?: number },
    limit: Omit<BrokenLimit, 'by'>,
  ): void {
    if (!this.isElastic) {
      this.program.row(terms, bounds)
      return
    }
    const column = this.program.column(SLACK_COST[limit.limit] ?? 1)
    this.slacks.push({ column, limit })
    const sign = bounds.least === undefined ? -1 : 1
    this.program.row([...terms, [column, sign]], bounds)
  }

  /** The most of a cell that an order could be for: what is short later, here and where trucks could take it. */
  private useful(at: number, day: number): number {
    const needAt = (index: number) => {
      const cell = this.problem.cells[index]
      const base = this.base[index] ?? []
      return Math.max(0, ...base.slice(day).map((level, i) => (cell?.cover[day + i] ?? 0) - level))
    }
    const cell = this.problem.cells[at]
    if (!cell) return 0
    const manifold = this.problem.manifolds
      .filter((need) => need.siteId === cell.siteId && need.gasId === cell.gasId)
      .map((need) => {
        const base = this.base[at] ?? []
        const lacks = base.map(
          (level, i) => (need.least[i] ?? 0) - (level - (cell.used[i] ?? 0) + cell.inUse),
        )
        return Math.max(0, ...lacks)
      })
    const elsewhere = this.problem.routes
      .filter((route) => route.fromSiteId === cell.siteId)
      .map((route) => this.index.get(cellKey(route.toSiteId, cell.sizeId)))
      .map((index) => (index === undefined ? 0 : needAt(index)))
    return [needAt(at), ...manifold, ...elsewhere].reduce((sum, one) => sum + one, 0)
  }

  private addOrder(supplier: PlanSupplier, day: number): void {
    const { problem, program } = this
    const here = this.bySite.get(supplier.siteId) ?? []
    const sold = here.filter((at) => {
      const cell = problem.cells[at]
      return cell && supplier.prices[cell.sizeId] !== undefined
    })
    // A minimum or a break may be worth more than is needed.
    const beyond = Math.max(supplier.least, ...supplier.breaks.map((one) => one.from), 0)
    const useful = new Map(sold.map((at) => [at, this.useful(at, day)]))
    const wanted = [...useful.values()].reduce((sum, one) => sum + one, 0)
    const truck = program.whole(this.priced(supplier.fee), 1)
    const trucks = this.trucks.get(`${supplier.siteId}|${day}`) ?? []
    this.trucks.set(`${supplier.siteId}|${day}`, [...trucks, truck])
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
      const column = program.whole(this.priced(cost), top)
      this.flows[at]?.push({ day, column, sign: 1 })
      this.truckOf.set(column, truck)
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
    const bands = this.addBands(supplier, day, { truck, total })
    this.orders.push({ supplier, day, truck, lines, bands })
  }

  /** Which break is reached: each band has its own count, and only one is in. An empty truck may come for empties. */
  private addBands(
    supplier: PlanSupplier,
    day: number,
    { truck, total }: { truck: number; total: readonly MilpTerm[] },
  ): OrderColumns['bands'] {
    const { program } = this
    const where = { at: supplier.siteId, gasId: null, day }
    if (total.length === 0) return []
    if (supplier.breaks.length === 0 && supplier.least <= 1) {
      this.limited(
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
      const cylinders = program.column(this.priced(-(i === 0 ? (passed?.off ?? 0) : off)), most)
      program.row(
        [
          [cylinders, 1],
          [isIn, -most],
        ],
        { most: 0 },
      )
      this.limited(
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

  private addMove(route: PlanRoute, day: number): void {
    const { problem, program } = this
    const { fleet } = problem
    // No driver, no trip; where limits are asked about, more hours may be the answer.
    if (!this.isElastic && (fleet.driverHours[day] ?? 0) < route.hours) return
    const lines: { from: number; to: number; column: number; cell: PlanCell }[] = []
    for (const from of this.bySite.get(route.fromSiteId) ?? []) {
      const cell = problem.cells[from]
      const to = cell && this.index.get(cellKey(route.toSiteId, cell.sizeId))
      const other = to === undefined ? undefined : problem.cells[to]
      if (!cell || to === undefined || !other) continue
      const byWeight = Math.floor(Math.max(fleet.tradeKg, fleet.papersKg) / cell.grossKg + 1e-9)
      const before = (this.base[from]?.[day - 1] ?? cell.full) - (cell.used[day - 1] ?? 0)
      const top = Math.min(byWeight, MOST_OF_A_SIZE)
      // Where use has passed what was there, what is left is not known to be spare.
      if (top <= 0 || before < 0) continue
      const rent = (other.rentPerDay - cell.rentPerDay) * (problem.days - day)
      lines.push({ from, to, column: program.whole(this.priced(rent), top), cell })
    }
    if (lines.length === 0) return
    const trade = program.whole(this.priced(route.tripCost), 1)
    const papers = program.whole(this.priced(route.tripCost), 1)
    const where = { at: route.routeId, gasId: null, day }
    program.row(
      [
        [trade, 1],
        [papers, 1],
      ],
      { most: 1 },
    )
    this.limited(
      [
        ...lines.map(({ column, cell }): MilpTerm => [column, cell.grossKg]),
        [trade, -fleet.tradeKg],
        [papers, -fleet.papersKg],
      ],
      { most: 0 },
      { limit: 'truck_weight', ...where },
    )
    for (const { from, to, column, cell } of lines) {
      if (cell.grossKg > fleet.tradeEachKg)
        program.row(
          [
            [column, 1],
            [papers, -MOST_OF_A_SIZE],
          ],
          { most: 0 },
        )
      const before = (this.base[from]?.[day - 1] ?? cell.full) - (cell.used[day - 1] ?? 0)
      this.flows[to]?.push({ day, column, sign: 1 })
      this.flows[from]?.push({ day, column, sign: -1 })
      this.spare.set(`${from}|${day}`, { from, day, before })
    }
    this.moves.push({ route, day, trade, papers, lines })
  }

  private addHours(): void {
    const { problem } = this
    // All that leaves by a day must have been there the evening before. Every route that feeds it is known by now.
    for (const { from, day, before } of this.spare.values()) {
      const terms = (this.flows[from] ?? [])
        .filter((flow) => (flow.sign < 0 ? flow.day <= day : flow.day < day))
        .map((flow): MilpTerm => [flow.column, -flow.sign])
      this.program.row(terms, { most: before })
    }
    for (let day = 0; day < problem.days; day += 1) {
      const today = this.moves.filter((move) => move.day === day)
      if (today.length === 0) continue
      const hours = (isPapers: boolean) =>
        today.flatMap(({ route, trade, papers }): MilpTerm[] =>
          isPapers
            ? [[papers, route.hours]]
            : [
                [trade, route.hours],
                [papers, route.hours],
              ],
        )
      const where = { at: '', gasId: null, day }
      this.limited(
        hours(false),
        { most: problem.fleet.driverHours[day] ?? 0 },
        { limit: 'driver_hours', ...where },
      )
      this.limited(
        hours(true),
        { most: problem.fleet.trainedHours[day] ?? 0 },
        { limit: 'trained_hours', ...where },
      )
    }
  }

  private addReturns(): void {
    const { problem, program } = this
    for (const [at, cell] of problem.cells.entries()) {
      const terms: MilpTerm[] = []
      for (let day = 0; day < problem.days; day += 1) {
        const trucks = this.trucks.get(`${cell.siteId}|${day}`)
        const used = day === 0 ? 0 : (cell.used[day - 1] ?? 0)
        const top = cell.empty + used
        if (!trucks || top <= 0) continue
        const late = Math.max(0, problem.days - Math.max(day, cell.demurrageFromDay))
        const saved = cell.rentPerDay * (problem.days - day) + cell.demurragePerDay * late
        const column = program.whole(this.priced(-saved), top)
        this.returns.push({ cell: at, day, column })
        this.gone[at]?.push({ day, column })
        terms.push([column, 1])
        program.row([[column, 1], ...trucks.map((truck): MilpTerm => [truck, -top])], { most: 0 })
        program.row([...terms], { most: top })
        const level = day === 0 ? 0 : (this.base[at]?.[day - 1] ?? 0)
        // Used up cannot be more than was ever there.
        if (level < used)
          program.row(
            [...terms, ...this.levelTerms(at, day - 1).map(([c, s]): MilpTerm => [c, -s])],
            { most: cell.empty + level },
          )
      }
    }
  }

  /** What orders and moves add to a cell until the end of a day. */
  private levelTerms(at: number, day: number): MilpTerm[] {
    return (this.flows[at] ?? [])
      .filter((flow) => flow.day <= day)
      .map((flow): MilpTerm => [flow.column, flow.sign])
  }

  private addCover(): void {
    const { problem, program } = this
    for (const [at, cell] of problem.cells.entries())
      for (let day = 0; day < problem.days; day += 1) {
        const least = (cell.cover[day] ?? 0) - (this.base[at]?.[day] ?? 0)
        const terms = this.levelTerms(at, day)
        if (least <= 0 && !terms.some(([, sign]) => sign < 0)) continue
        if (problem.coverIs === 'required') {
          const where = { at: cell.siteId, gasId: cell.gasId, day }
          this.limited(terms, { least }, { limit: 'cover', ...where })
        } else {
          const column = program.column(this.priced(cell.runOutPerDay))
          this.coverShort.push({ cell: at, day, column })
          program.row([...terms, [column, 1]], { least })
          if (least > 0) this.tighten(at, day, { least, short: column })
        }
      }
  }

  /**
   * Some truck must come for what is short, however many cylinders it could bring: true of every plan, and
   * without it the solver fills a twentieth of a truck for a twentieth of its fee.
   */
  private tighten(
    at: number,
    day: number,
    { least, short }: { least: number; short: number },
  ): void {
    const cell = this.problem.cells[at]
    const isLastBefore =
      this.trucks.has(`${cell?.siteId}|${day + 1}`) || day === this.problem.days - 1
    if (!cell || !isLastBefore) return
    const incoming = (this.flows[at] ?? []).filter((flow) => flow.sign > 0 && flow.day <= day)
    const orders = incoming.filter((flow) => this.truckOf.has(flow.column))
    const others = incoming.filter((flow) => !this.truckOf.has(flow.column))
    for (let kept = 0; kept < orders.length; kept += 1) {
      const terms = orders.map(
        (flow, i): MilpTerm =>
          i < kept ? [flow.column, 1] : [this.truckOf.get(flow.column) ?? 0, least],
      )
      this.program.row(
        [...terms, ...others.map((flow): MilpTerm => [flow.column, 1]), [short, 1]],
        { least },
      )
    }
  }

  private addManifolds(): void {
    const { problem, program } = this
    for (const [index, need] of problem.manifolds.entries()) {
      const here = (this.bySite.get(need.siteId) ?? []).filter(
        (at) => problem.cells[at]?.gasId === need.gasId,
      )
      for (let day = 0; day < problem.days; day += 1) {
        const there = here.reduce((sum, at) => {
          const cell = problem.cells[at]
          return sum + (this.base[at]?.[day] ?? 0) - (cell?.used[day] ?? 0) + (cell?.inUse ?? 0)
        }, 0)
        const least = (need.least[day] ?? 0) - there
        const terms = here.flatMap((at) => this.levelTerms(at, day))
        if (least <= 0 && !terms.some(([, sign]) => sign < 0)) continue
        const column = program.column(this.priced(need.shortPerDay))
        this.manifoldShort.push({ need: index, day, column })
        program.row([...terms, [column, 1]], { least })
      }
    }
  }

  private addStorage(): void {
    const { problem } = this
    for (const limit of problem.storage) {
      const { siteId, gasIds, most } = limit
      const here = (this.bySite.get(siteId) ?? []).filter((at) =>
        gasIds.includes(problem.cells[at]?.gasId ?? ''),
      )
      const largest = storageLargest(limit, problem.cells)
      // In cylinders of the largest size, as what breaks it is told.
      const countOf = (at: number) => storageEach(limit, problem.cells[at]?.sizeId ?? '') / largest
      for (let day = 0; day < problem.days; day += 1) {
        const there = here.reduce((sum, at) => {
          const cell = problem.cells[at]
          const stands = (this.base[at]?.[day] ?? 0) + (cell?.empty ?? 0) + (cell?.inUse ?? 0)
          return sum + stands * countOf(at)
        }, 0)
        const terms = here.flatMap((at) =>
          [
            ...this.levelTerms(at, day),
            ...(this.gone[at] ?? [])
              .filter((one) => one.day <= day)
              .map((one): MilpTerm => [one.column, -1]),
          ].map(([column, sign]): MilpTerm => [column, sign * countOf(at)]),
        )
        if (terms.length === 0 && there <= most / largest) continue
        this.limited(
          terms,
          { most: most / largest - there },
          { limit: 'storage', at: siteId, gasId: gasIds.join(' '), day },
        )
      }
    }
  }
}

/**
 * The mixed-integer program of a supply plan.
 *
 * @param problem what is known of stock, use, trucks and limits
 * @returns rows and columns, and what each column stands for
 * @remarks Its least cost is that of `planCost`; every plan it allows breaks no limit of `brokenLimits`.
 */
export function planModel(problem: PlanProblem): PlanModel {
  return new PlanModelBuilder(problem, false).build()
}

/**
 * The same program with every limit able to give way at a cost, and nothing else priced: what has to be
 * relaxed where no plan is to be had.
 */
export function relaxedPlanModel(problem: PlanProblem): PlanModel {
  return new PlanModelBuilder(problem, true).build()
}
