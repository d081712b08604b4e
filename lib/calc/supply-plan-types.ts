/**
 * One size of one gas at one site. Days count from 0, today; every list has one number a day, at its end.
 * All cylinders are whole.
 */
export type PlanCell = Readonly<{
  siteId: string
  gasId: string
  sizeId: string
  full: number
  /** On outfits: one hangs there whenever another comes off, so that their number stays. */
  inUse: number
  empty: number
  /** Empties besides, by day, that a confirmed truck will have taken: they stand there until its day. */
  leaving?: readonly number[]
  /** Used until then, in the mean. */
  used: readonly number[]
  /** What use until then stays at or below with the service that is wanted, less what hangs open. */
  cover: readonly number[]
  /** Arrives on that day by orders confirmed before; they are fixed. */
  fixedIn: readonly number[]
  rentPerDay: number
  /** On top of rent, for an empty, from that day on. */
  demurragePerDay: number
  demurrageFromDay: number
  /** For each cylinder that the high end of use is short of, for each day. */
  runOutPerDay: number
  grossKg: number
}>

export type PlanSupplier = Readonly<{
  supplierId: string
  siteId: string
  /** Days on which its truck can come, lead time kept. */
  days: readonly number[]
  fee: number
  /** Fewest and most cylinders of an order. */
  least: number
  most: number
  /** By size; what is not named is not sold. */
  prices: Readonly<Record<string, number>>
  /** From so many cylinders on, each costs so much less; rising. */
  breaks: readonly Readonly<{ from: number; off: number }>[]
  /** Whether its truck takes empties along; it does unless said otherwise. */
  takesEmpties?: boolean
}>

export type PlanRoute = Readonly<{
  routeId: string
  fromSiteId: string
  toSiteId: string
  tripCost: number
  hours: number
}>

export type PlanFleet = Readonly<{
  /** Hours of all drivers, and of those trained for papers, by day. */
  driverHours: readonly number[]
  trainedHours: readonly number[]
  /** Gross on the vehicle as materials of trade, and of a single cylinder. */
  tradeKg: number
  tradeEachKg: number
  /** With papers and a trained driver. */
  papersKg: number
}>

export type PlanStorage = Readonly<{
  siteId: string
  gasIds: readonly string[]
  most: number
  /** By size; what is not named counts 1. */
  eachOf?: Readonly<Record<string, number>>
}>

export type PlanProblem = Readonly<{
  days: number
  cells: readonly PlanCell[]
  suppliers: readonly PlanSupplier[]
  routes: readonly PlanRoute[]
  fleet: PlanFleet
  /**
   * Of these gases on the site at once, full, in use and empty. Cylinders, unless a size counts as something else,
   * such as its cubic feet.
   */
  storage: readonly PlanStorage[]
  /** Full and in use together that withdrawal needs at once, by day. */
  manifolds: readonly Readonly<{
    siteId: string
    gasId: string
    least: readonly number[]
    shortPerDay: number
  }>[]
  /** Whether cover must hold, or is bought as far as it pays. */
  coverIs: 'required' | 'priced'
}>

export type PlanLine = Readonly<{ gasId: string; sizeId: string; quantity: number }>
export type PlanOrder = Readonly<{
  supplierId: string
  siteId: string
  day: number
  lines: readonly PlanLine[]
}>
export type PlanMove = Readonly<{
  routeId: string
  day: number
  /** Beyond materials of trade: shipping papers and a trained driver. */
  papers: boolean
  lines: readonly PlanLine[]
}>
/** Empties that the supplier's truck takes along. */
export type PlanReturn = Readonly<{ siteId: string; day: number; lines: readonly PlanLine[] }>
export type SupplyPlan = Readonly<{
  orders: readonly PlanOrder[]
  moves: readonly PlanMove[]
  returns: readonly PlanReturn[]
}>

export type PlanCost = Readonly<{
  goods: number
  fees: number
  trips: number
  rent: number
  demurrage: number
  runOut: number
  total: number
}>

export const LIMIT_KINDS = [
  'storage',
  'supplier_least',
  'supplier_most',
  'supplier_day',
  'not_sold',
  'truck_weight',
  'cylinder_weight',
  'driver_hours',
  'trained_hours',
  'not_there',
  'empties',
  'no_truck',
  'cover',
] as const
export type LimitKind = (typeof LIMIT_KINDS)[number]

/** A limit that a plan breaks, or that has to give way, by how much and where. */
export type BrokenLimit = Readonly<{
  limit: LimitKind
  /** The site, the supplier's site or the route. */
  at: string
  gasId: string | null
  day: number
  by: number
}>
