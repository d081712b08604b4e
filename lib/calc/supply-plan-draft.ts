import { MilpBuilder, type MilpTerm } from './milp'
import type { MoveColumns, OrderColumns, ReturnColumn, SlackColumn } from './supply-plan-columns'
import { cellKey } from './supply-plan-cost'
import type { BrokenLimit, LimitKind, PlanProblem } from './supply-plan-types'

/** What a limit's giving way costs beside another's: hours and kilograms are not cylinders. */
const SLACK_COST: Partial<Record<LimitKind, number>> = { truck_weight: 0.02, driver_hours: 0.5 }
/** Of one size with one truck. */
export const MOST_OF_A_SIZE = 200

/** The program while it is built: its columns by what they stand for, and what flows into and out of each cell. */
export class PlanModelDraft {
  readonly program = new MilpBuilder()
  readonly orders: OrderColumns[] = []
  readonly moves: MoveColumns[] = []
  readonly returns: ReturnColumn[] = []
  readonly coverShort: { cell: number; day: number; column: number }[] = []
  readonly manifoldShort: { need: number; day: number; column: number }[] = []
  readonly slacks: SlackColumn[] = []
  readonly roomRows: { limit: number; day: number; row: number; largest: number }[] = []
  readonly hourRows: { day: number; isPapers: boolean; row: number }[] = []
  readonly index = new Map<string, number>()
  readonly bySite = new Map<string, number[]>()
  /** What comes to and leaves each cell, by day. */
  readonly flows: { day: number; column: number; sign: 1 | -1 }[][]
  readonly gone: { day: number; column: number }[][]
  /** The truck that brings what a column orders. */
  readonly truckOf = new Map<number, number>()
  readonly trucks = new Map<string, number[]>()
  /** Cells that a truck may take from on a day, and what is spare there if nothing is done. */
  readonly spare = new Map<string, { from: number; day: number; before: number }>()
  /** Full at the end of each day, if nothing is done. */
  readonly base: number[][]

  constructor(
    readonly problem: PlanProblem,
    readonly isElastic: boolean,
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

  /** Costs count only where a plan is looked for; where limits are asked about, only their giving way does. */
  priced(cost: number): number {
    return this.isElastic ? 0 : cost
  }

  limited(
    terms: readonly MilpTerm[],
    bounds: { least?: number; most?: number },
    limit: Omit<BrokenLimit, 'by'>,
  ): number {
    if (!this.isElastic) return this.program.row(terms, bounds)
    const column = this.program.column(SLACK_COST[limit.limit] ?? 1)
    this.slacks.push({ column, limit })
    const sign = bounds.least === undefined ? -1 : 1
    return this.program.row([...terms, [column, sign]], bounds)
  }

  /** What orders and moves add to a cell until the end of a day. */
  levelTerms(at: number, day: number): MilpTerm[] {
    return (this.flows[at] ?? [])
      .filter((flow) => flow.day <= day)
      .map((flow): MilpTerm => [flow.column, flow.sign])
  }
}
