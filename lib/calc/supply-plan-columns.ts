import type { Milp } from './milp'
import type { BrokenLimit, PlanRoute, PlanSupplier } from './supply-plan-types'

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
  /** The row of what it may carry. */
  weightRow: number
  lines: readonly Readonly<{
    from: number
    to: number
    column: number
    /** The row that lets it ride only where a trip is made, and how many of it fit on either kind. */
    row: number
    byTrade: number
    byPapers: number
  }>[]
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
  /** The site that each row is about; null for what links sites. */
  rowsAbout: readonly (string | null)[]
  /** Rows of storage limits, each counted in cylinders of its largest size. */
  roomRows: readonly Readonly<{ limit: number; day: number; row: number; largest: number }>[]
  /** Rows of drivers' hours, of all and of those trained for papers. */
  hourRows: readonly Readonly<{ day: number; isPapers: boolean; row: number }>[]
}>
