import type { PlanModel } from './supply-plan-columns'
import { cellKey } from './supply-plan-cost'
import { planModel } from './supply-plan-model'
import type { PlanCell, PlanProblem, PlanRoute, PlanSupplier } from './supply-plan-types'

/** What links sites, priced: a cylinder where it is taken from, an hour of a driver, a kilogram on a truck. */
export type LinkPrices = Readonly<{
  /** By site and size, and day: `cellKey` and the day. */
  cylinder: ReadonlyMap<string, number>
  hour: readonly number[]
  trainedHour: readonly number[]
  /** By route and day: a kilogram, what each size pays to ride at all, and what those pay to a trip of each kind. */
  trip: ReadonlyMap<
    string,
    Readonly<{ kg: number; riding: ReadonlyMap<string, number>; toTrade: number; toPapers: number }>
  >
  /** By storage limit and day. */
  room: readonly (readonly number[])[]
}>

const MOST_ORDERED = 200
const MARKET = 'market'
/** On what carries what is sold weight does not count. */
const NO_WEIGHT_KG = 1e-3
const CARRIES_KG = 1e6

const dayKey = (key: string, day: number) => `${key}|${day}`

/**
 * Prices that the program's relaxation puts on what links sites.
 *
 * @param duals of its rows, as of a program that looks for the least
 * @returns prices; whatever they are, what the sites cost at them is a bound
 */
export function linkPrices(
  problem: PlanProblem,
  model: PlanModel,
  duals: ArrayLike<number>,
): LinkPrices {
  const fromOf = new Map<number, { cell: number; day: number; siteId: string }>()
  for (const { route, day, lines } of model.moves)
    for (const { from, column } of lines)
      fromOf.set(column, { cell: from, day, siteId: route.fromSiteId })
  const worth = new Map<number, number>()
  const { rowStarts, columns, coefficients } = model.milp
  for (const [row, about] of model.rowsAbout.entries()) {
    const dual = duals[row] ?? 0
    if (about === null || dual === 0) continue
    for (let at = rowStarts[row] ?? 0; at < (rowStarts[row + 1] ?? 0); at += 1) {
      const column = columns[at] ?? -1
      if (fromOf.get(column)?.siteId !== about) continue
      worth.set(column, (worth.get(column) ?? 0) + dual * (coefficients[at] ?? 0))
    }
  }
  const cylinder = new Map<string, number>()
  for (const [column, { cell: at, day }] of fromOf) {
    const cell = problem.cells[at]
    if (!cell) continue
    const rent = cell.rentPerDay * (problem.days - day)
    const key = dayKey(cellKey(cell.siteId, cell.sizeId), day)
    // Below nought where one too many costs rent, but nobody is paid for taking one that nobody is short of.
    const least = -cheapestRent(problem, cell) * (problem.days - day)
    cylinder.set(key, Math.max(least, -rent - (worth.get(column) ?? 0)))
  }
  const hours = (isPapers: boolean) =>
    Array.from({ length: problem.days }, (_, day) => {
      const found = model.hourRows.find((one) => one.day === day && one.isPapers === isPapers)
      return found ? Math.max(0, -(duals[found.row] ?? 0)) : 0
    })
  const trip = new Map(
    model.moves.map(({ route, day, weightRow, lines }) => {
      const paid = lines.map(({ row, from, byTrade, byPapers }) => {
        const price = Math.max(0, -(duals[row] ?? 0))
        const sizeId = problem.cells[from]?.sizeId ?? ''
        return { sizeId, price, toTrade: byTrade * price, toPapers: byPapers * price }
      })
      return [
        dayKey(route.routeId, day),
        {
          kg: Math.max(0, -(duals[weightRow] ?? 0)),
          riding: new Map(paid.map(({ sizeId, price }) => [sizeId, price])),
          toTrade: paid.reduce((sum, one) => sum + one.toTrade, 0),
          toPapers: paid.reduce((sum, one) => sum + one.toPapers, 0),
        },
      ]
    }),
  )
  const room = problem.storage.map(() => new Array<number>(problem.days).fill(0))
  for (const { limit, day, row, largest } of model.roomRows) {
    const days = room[limit]
    if (days) days[day] = Math.max(0, -(duals[row] ?? 0) / largest)
  }
  return { room, cylinder, hour: hours(false), trainedHour: hours(true), trip }
}

/** The least rent of a size wherever own trucks could bring it from a site. */
function cheapestRent({ routes, cells }: PlanProblem, from: PlanCell): number {
  const to = new Set(
    routes.filter((route) => route.fromSiteId === from.siteId).map((route) => route.toSiteId),
  )
  const rents = cells
    .filter((cell) => to.has(cell.siteId) && cell.sizeId === from.sizeId)
    .map((cell) => cell.rentPerDay)
  return Math.max(0, Math.min(...rents))
}

/** What a trip costs with its hours paid and its capacity sold, at the better of its two kinds. */
function tripFee(
  { fleet }: PlanProblem,
  route: PlanRoute,
  { day, prices }: { day: number; prices: LinkPrices },
): number {
  const { kg = 0, toTrade = 0, toPapers = 0 } = prices.trip.get(dayKey(route.routeId, day)) ?? {}
  const trade = route.tripCost + (prices.hour[day] ?? 0) * route.hours
  const papers = trade + (prices.trainedHour[day] ?? 0) * route.hours
  const mayTrain = (fleet.trainedHours[day] ?? 0) >= route.hours
  return Math.min(
    trade - kg * fleet.tradeKg - toTrade,
    mayTrain ? papers - kg * fleet.papersKg - toPapers : Number.POSITIVE_INFINITY,
  )
}

const mayGo = ({ fleet }: PlanProblem, route: PlanRoute, day: number) =>
  (fleet.driverHours[day] ?? 0) >= route.hours

/** Own trucks as one site sees them: suppliers of a day, who sell what another site could spare and take no empties. */
function tripsAsSuppliers(
  problem: PlanProblem,
  siteId: string,
  prices: LinkPrices,
): { suppliers: PlanSupplier[]; constant: number } {
  const suppliers: PlanSupplier[] = []
  let constant = 0
  for (const route of problem.routes.filter((one) => one.toSiteId === siteId)) {
    const from = problem.cells.filter((cell) => cell.siteId === route.fromSiteId)
    for (let day = 0; day < problem.days; day += 1) {
      if (!mayGo(problem, route, day)) continue
      const { kg = 0, riding } = prices.trip.get(dayKey(route.routeId, day)) ?? {}
      const sold = from.flatMap((cell) => {
        const each = prices.cylinder.get(dayKey(cellKey(cell.siteId, cell.sizeId), day))
        return each === undefined
          ? []
          : [[cell.sizeId, each + kg * cell.grossKg + (riding?.get(cell.sizeId) ?? 0)] as const]
      })
      if (sold.length === 0) continue
      const fee = tripFee(problem, route, { day, prices })
      constant += Math.min(0, fee)
      suppliers.push({
        supplierId: dayKey(route.routeId, day),
        siteId,
        days: [day],
        fee: Math.max(0, fee),
        least: 1,
        most: MOST_ORDERED,
        prices: Object.fromEntries(sold),
        breaks: [],
        takesEmpties: false,
      })
    }
  }
  return { suppliers, constant }
}

/** One site with what links it to others priced. */
export type SiteShare = Readonly<{
  problem: PlanProblem
  /** What its trips are worth even empty: part of the bound. */
  constant: number
  /** Whether trips start here: then what it could spare is sold, and only its program tells how. */
  isSource: boolean
  /** What room costs here, as the search for its plan begins. */
  rooms: LinkPrices['room']
}>

export function siteShares(problem: PlanProblem, prices: LinkPrices): SiteShare[] {
  return [...new Set(problem.cells.map((cell) => cell.siteId))].map((siteId) => {
    const isHere = (one: { siteId: string }) => one.siteId === siteId
    const { suppliers, constant } = tripsAsSuppliers(problem, siteId, prices)
    return {
      constant,
      rooms: prices.room.filter((_, at) => problem.storage[at]?.siteId === siteId),
      isSource: problem.routes.some((route) => route.fromSiteId === siteId),
      problem: {
        ...problem,
        cells: problem.cells.filter(isHere),
        suppliers: [...problem.suppliers.filter(isHere), ...suppliers],
        routes: [],
        storage: problem.storage.filter(isHere),
        manifolds: problem.manifolds.filter(isHere),
      },
    }
  })
}

/** Hours that are there are paid for by trips alone: what is left of them is worth their price. */
export const hoursWorth = ({ fleet }: PlanProblem, { hour, trainedHour }: LinkPrices): number =>
  hour.reduce((sum, price, day) => sum + price * (fleet.driverHours[day] ?? 0), 0) +
  trainedHour.reduce((sum, price, day) => sum + price * (fleet.trainedHours[day] ?? 0), 0)

/** The most of a cell's size that other sites could ever want. */
function wanted(problem: PlanProblem, cell: PlanCell): number {
  return problem.routes
    .filter((route) => route.fromSiteId === cell.siteId)
    .flatMap((route) =>
      problem.cells.filter((one) => one.siteId === route.toSiteId && one.sizeId === cell.sizeId),
    )
    .reduce((sum, to) => sum + Math.max(0, ...to.cover), 0)
}

/** The program of a site that may sell what it can spare at the prices of the day. */
export function sourceModel(whole: PlanProblem, share: SiteShare, prices: LinkPrices): PlanModel {
  const { problem } = share
  const { days } = problem
  const none = new Array<number>(days).fill(0)
  const market = problem.cells.map((cell) => ({
    ...cell,
    siteId: MARKET,
    full: 0,
    inUse: 0,
    empty: 0,
    leaving: none,
    used: none,
    cover: none.map(() => wanted(whole, cell)),
    fixedIn: none,
    rentPerDay: 0,
    demurragePerDay: 0,
    runOutPerDay: 0,
  }))
  const siteId = problem.cells[0]?.siteId ?? ''
  const model = planModel({
    ...problem,
    cells: [...problem.cells.map((cell) => ({ ...cell, grossKg: NO_WEIGHT_KG })), ...market],
    routes: [{ routeId: MARKET, fromSiteId: siteId, toSiteId: MARKET, tripCost: 0, hours: 0 }],
    fleet: {
      driverHours: none,
      trainedHours: none,
      tradeKg: CARRIES_KG,
      tradeEachKg: CARRIES_KG,
      papersKg: 0,
    },
  })
  for (const { day, lines } of model.moves)
    for (const { from, column } of lines) {
      const cell = problem.cells[from]
      const price = cell && prices.cylinder.get(dayKey(cellKey(cell.siteId, cell.sizeId), day))
      // On days on which no truck goes from here nothing is sold.
      if (price === undefined) model.milp.upper[column] = 0
      else model.milp.cost[column] = (model.milp.cost[column] ?? 0) - price
    }
  return model
}
