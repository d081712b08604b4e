import { CalcError } from './errors'

/** One size of one gas at one site, and what a day of it costs. */
export type SimulatedCell = Readonly<{
  full: number
  fillCost: number
  rentPerDay: number
}>
export type SimulatedSite = Readonly<{
  cells: readonly SimulatedCell[]
  /** Of one visit of the supplier's truck, which takes all empties along. */
  visitCost: number
  /** What each cell is asked for, by day, in cylinders and parts of one. */
  demand: readonly (readonly number[])[]
}>
/** What a rule sees on the morning of a day. */
export type SiteMorning = Readonly<{
  day: number
  full: readonly number[]
  /** What is left in the open one, as a part of a cylinder. */
  open: readonly number[]
  empty: readonly number[]
  coming: readonly Readonly<{ day: number; quantities: readonly number[] }>[]
}>
/** Orders of one morning: for the day on which the truck comes. */
export type SupplyRule = (
  morning: SiteMorning,
) => readonly Readonly<{ day: number; quantities: readonly number[] }>[]
export type SupplyYear = Readonly<{
  /** Days on which a crew wanted gas that was not there, cell by cell. */
  runOuts: number
  shortCylinders: number
  visits: number
  ordered: number
  /** Cylinders that stood there full at the end of a day, summed over the days. */
  idleCylinderDays: number
  /** Fills, visits and rent; what standing still costs is apart, so that it can't hide anything. */
  cost: number
}>

/**
 * Days at one site under a rule of ordering, against demand that the rule does not see.
 *
 * @param site stock, costs, and the demand of every day
 * @param rule asked every morning; what it orders comes on its day before work begins
 * @returns run-outs, cost and idle cylinders; demand that was not met is gone, not waited for
 * @throws {CalcError} OUT_OF_RANGE where the rule orders into the past or less than nothing
 */
export function simulateSite(site: SimulatedSite, rule: SupplyRule): SupplyYear {
  const days = site.demand[0]?.length ?? 0
  const full = site.cells.map((cell) => cell.full)
  const open = site.cells.map(() => 0)
  const empty = site.cells.map(() => 0)
  const year = {
    runOuts: 0,
    shortCylinders: 0,
    visits: 0,
    ordered: 0,
    idleCylinderDays: 0,
    cost: 0,
  }
  let coming: { day: number; quantities: readonly number[] }[] = []
  for (let day = 0; day < days; day += 1) {
    const orders = rule({ day, full: [...full], open: [...open], empty: [...empty], coming })
    for (const order of orders) {
      if (order.day < day || order.quantities.some((quantity) => !(quantity >= 0)))
        throw new CalcError('OUT_OF_RANGE', 'order.day', order.day)
      coming.push(order)
    }
    const here = coming.filter((order) => order.day === day)
    coming = coming.filter((order) => order.day !== day)
    if (here.length > 0) {
      year.visits += 1
      year.cost += site.visitCost
      empty.fill(0)
    }
    for (const [at, cell] of site.cells.entries()) {
      const quantity = here.reduce((sum, order) => sum + (order.quantities[at] ?? 0), 0)
      full[at] = (full[at] ?? 0) + quantity
      year.ordered += quantity
      year.cost += quantity * cell.fillCost
      let wanted = site.demand[at]?.[day] ?? 0
      while (wanted > (open[at] ?? 0) && (full[at] ?? 0) > 0) {
        wanted -= open[at] ?? 0
        // A new one is put on; whatever hung there before went off empty.
        if ((open[at] ?? 0) > 0 || day > 0) empty[at] = (empty[at] ?? 0) + 1
        full[at] = (full[at] ?? 0) - 1
        open[at] = 1
      }
      const used = Math.min(wanted, open[at] ?? 0)
      open[at] = (open[at] ?? 0) - used
      if (wanted - used > 1e-9) {
        year.runOuts += 1
        year.shortCylinders += wanted - used
      }
      year.idleCylinderDays += full[at] ?? 0
      year.cost += cell.rentPerDay * ((full[at] ?? 0) + (empty[at] ?? 0) + 1)
    }
  }
  return year
}

/**
 * The rule of thumb "order when one is left": a usual quantity as soon as one full cylinder is left and none comes.
 *
 * @param usual cylinders of an order, by cell
 * @param nextTruck the first day on which the truck can come
 */
export function whenOneIsLeft(
  usual: readonly number[],
  nextTruck: (day: number) => number,
): SupplyRule {
  return ({ day, full, coming }) => {
    const quantities = usual.map((quantity, at) => {
      const isComing = coming.some((order) => (order.quantities[at] ?? 0) > 0)
      return (full[at] ?? 0) <= 1 && !isComing ? quantity : 0
    })
    return quantities.some((quantity) => quantity > 0) ? [{ day: nextTruck(day), quantities }] : []
  }
}

/** The rule of thumb "the same every week": on one morning of seven, for the next truck. */
export function sameEveryWeek(
  usual: readonly number[],
  nextTruck: (day: number) => number,
): SupplyRule {
  return ({ day }) => (day % 7 === 0 ? [{ day: nextTruck(day), quantities: usual }] : [])
}
