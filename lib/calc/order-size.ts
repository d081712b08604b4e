import { CalcError, requireNumber } from './errors'

/** Demand over a time, what an order costs however big, and what holding one unit costs over that time. */
export type OrderTerms = Readonly<{ demand: number; fixedCost: number; holding: number }>
/** Price of a unit from a quantity on; the first starts at nought. */
export type PriceBreak = Readonly<{ from: number; price: number }>
/** As `OrderTerms`, with holding as a share of what a unit costs. */
export type BreakTerms = Readonly<{ demand: number; fixedCost: number; holdingShare: number }>
export type OrderSize = Readonly<{ quantity: number; cost: number }>

function checkTerms(terms: Readonly<Record<string, number>>): void {
  for (const [field, value] of Object.entries(terms)) requireNumber(field, value, { above: 0 })
}

function checkBreaks(breaks: readonly PriceBreak[]): void {
  if (breaks[0]?.from !== 0) throw new CalcError('OUT_OF_RANGE', 'breaks.0.from', breaks[0]?.from)
  for (const [i, { from, price }] of breaks.entries()) {
    requireNumber(`breaks.${i}.price`, price, { above: 0 })
    if (i > 0) requireNumber(`breaks.${i}.from`, from, { above: breaks[i - 1]?.from ?? 0 })
  }
}

/**
 * Cost over the time of ordering a quantity again and again: orders and holding.
 *
 * @returns in the costs' currency; the goods themselves are not counted
 * @throws {CalcError} OUT_OF_RANGE for a term that is not > 0
 */
export function orderingCost(terms: OrderTerms, quantity: number): number {
  checkTerms({ ...terms, quantity })
  return (terms.fixedCost * terms.demand) / quantity + (terms.holding * quantity) / 2
}

/**
 * Quantity at which ordering and holding cost least together: √(2 K D / h).
 *
 * @returns quantity and cost over the time
 * @throws {CalcError} OUT_OF_RANGE for a term that is not > 0
 * @source economic order quantity (Harris 1913; Snyder & Shen, example 3.1)
 */
export function orderQuantity(terms: OrderTerms): OrderSize {
  checkTerms(terms)
  const quantity = Math.sqrt((2 * terms.fixedCost * terms.demand) / terms.holding)
  return { quantity, cost: orderingCost(terms, quantity) }
}

const least = (sizes: readonly OrderSize[]): OrderSize =>
  sizes.reduce((best, size) => (size.cost < best.cost ? size : best))

/**
 * Best quantity where passing a break makes every unit cheaper.
 *
 * @param terms demand, cost of an order, holding as a share of the price
 * @param breaks from 0 up, prices in the order of the breaks
 * @returns quantity, and cost over the time with the goods
 * @throws {CalcError} OUT_OF_RANGE
 * @source all-units discounts: best of the feasible quantities and the breaks (Snyder & Shen, example 3.6)
 */
export function quantityAtBreaks(terms: BreakTerms, breaks: readonly PriceBreak[]): OrderSize {
  checkTerms(terms)
  checkBreaks(breaks)
  return least(
    breaks.flatMap(({ from, price }, i) => {
      const own = { ...terms, holding: terms.holdingShare * price }
      const quantity = Math.max(orderQuantity(own).quantity, from)
      if (quantity >= (breaks[i + 1]?.from ?? Number.POSITIVE_INFINITY)) return []
      return [{ quantity, cost: price * terms.demand + orderingCost(own, quantity) }]
    }),
  )
}

/**
 * Best quantity where only the units past a break are cheaper.
 *
 * @param terms, breaks as for `quantityAtBreaks`; prices fall
 * @returns quantity, and cost over the time with the goods
 * @throws {CalcError} OUT_OF_RANGE
 * @source incremental discounts: what the dearer units cost more is a part of the order's cost (Snyder & Shen, example 3.7)
 */
export function quantityPastBreaks(terms: BreakTerms, breaks: readonly PriceBreak[]): OrderSize {
  checkTerms(terms)
  checkBreaks(breaks)
  let dearer = 0
  return least(
    breaks.flatMap(({ from, price }, i) => {
      const before = breaks[i - 1]
      if (before) dearer += from * (before.price - price)
      const own = {
        demand: terms.demand,
        fixedCost: terms.fixedCost + dearer,
        holding: terms.holdingShare * price,
      }
      const { quantity, cost } = orderQuantity(own)
      const isFeasible =
        quantity >= from && quantity < (breaks[i + 1]?.from ?? Number.POSITIVE_INFINITY)
      const goods = price * terms.demand + (terms.holdingShare * dearer) / 2
      return isFeasible ? [{ quantity, cost: goods + cost }] : []
    }),
  )
}

/**
 * Best quantity where a crew may wait, at a cost per unit and time.
 *
 * @param terms as for `orderQuantity`
 * @param waiting cost of one unit short over the time, > 0
 * @returns quantity, cost over the time, share of an order that is waited for, and the most that is short
 * @throws {CalcError} OUT_OF_RANGE
 * @source planned backorders (Snyder & Shen, example 3.8; Hillier & Lieberman)
 */
export function quantityWithWaiting(terms: OrderTerms, waiting: number) {
  checkTerms({ ...terms, waiting })
  const { fixedCost, demand, holding } = terms
  const shortShare = holding / (holding + waiting)
  const quantity = Math.sqrt((2 * fixedCost * demand * (holding + waiting)) / (holding * waiting))
  const cost = Math.sqrt((2 * fixedCost * demand * holding * waiting) / (holding + waiting))
  return { quantity, cost, shortShare, mostShort: quantity * shortShare }
}

/**
 * When to order what, where only known work counts.
 *
 * @param demand by day, none below nought
 * @param costs of an order and of holding one unit for a day, each > 0
 * @returns what to order on each day, and the cost of orders and holding
 * @throws {CalcError} OUT_OF_RANGE
 * @source Wagner & Whitin 1958; holding is paid for what is left at the end of a day
 */
export function lotsForDays(
  demand: readonly number[],
  costs: { fixedCost: number; holding: number },
): { orders: number[]; cost: number } {
  checkTerms(costs)
  for (const [day, value] of demand.entries()) requireNumber(`demand.${day}`, value, { min: 0 })
  const best = [{ cost: 0, from: 0 }]
  for (let end = 1; end <= demand.length; end += 1) {
    let here = { cost: Number.POSITIVE_INFINITY, from: 0 }
    for (let from = end - 1; from >= 0; from -= 1) {
      const held = holdingFrom(demand, from, end) * costs.holding
      const cost = (best[from]?.cost ?? 0) + costs.fixedCost + held
      if (cost < here.cost) here = { cost, from }
    }
    best.push(here)
  }
  const orders = demand.map(() => 0)
  for (let end = demand.length; end > 0; end = best[end]?.from ?? 0) {
    const from = best[end]?.from ?? 0
    orders[from] = demand.slice(from, end).reduce((sum, value) => sum + value, 0)
  }
  return { orders, cost: best[demand.length]?.cost ?? 0 }
}

/** Units times days that they lie, ordered on the first and used on their own. */
const holdingFrom = (demand: readonly number[], from: number, end: number) =>
  demand.slice(from, end).reduce((sum, value, days) => sum + value * days, 0)

/**
 * Whole cylinders to order for an amount, and what rounding adds.
 *
 * @param need amount, and what one cylinder gives above what is left in at change, in the same unit
 * @param multiple the supplier's pallet, 1 for none
 * @returns cylinders, and what is ordered beyond the need
 * @throws {CalcError} OUT_OF_RANGE
 */
export function wholeOrder(
  need: { amount: number; perCylinder: number },
  multiple: number,
): { cylinders: number; beyond: number } {
  requireNumber('amount', need.amount)
  requireNumber('perCylinder', need.perCylinder, { above: 0 })
  requireNumber('multiple', multiple, { min: 1 })
  const pallets = Math.ceil(Math.max(0, need.amount) / need.perCylinder / multiple - 1e-9)
  const cylinders = Math.max(0, pallets) * multiple
  return { cylinders, beyond: cylinders * need.perCylinder - Math.max(0, need.amount) }
}
