import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import { type Demand, demandQuantile, expectedShortage } from './demand'
import { CalcError, requireNumber } from './errors'
import type { OrderCosts } from './order-level'
import { criticalRatio, expectedCost } from './order-level'

export type PointTerms = Readonly<{
  /** Demand over the lead time. */
  leadTime: Demand
  /** Units per unit of time. */
  ratePerTime: number
  fixedCost: number
  costs: OrderCosts
}>
export type PointAndQuantity = Readonly<{ point: number; quantity: number; cost: number }>

/**
 * Point at which to order, so that a cycle passes without being short with a probability (cycle service).
 *
 * @param leadTime demand over the lead time
 * @param service 0 to 1, both excluded
 * @returns point, and what of it is kept for safety
 */
export function pointForService(
  leadTime: Demand,
  service: number,
): { point: number; safety: number } {
  const point = demandQuantile(leadTime, service)
  return { point, safety: point - leadTime.mean }
}

/**
 * Moments of demand over a lead time that varies itself.
 *
 * @param perDay mean and variance of a day's demand; `days` mean and variance of the lead time
 * @returns mean E[L] μ, variance E[L] σ² + μ² Var[L]
 */
export function leadTimeMoments(
  perDay: { mean: number; variance: number },
  days: { mean: number; variance: number },
): { mean: number; variance: number } {
  return {
    mean: days.mean * perDay.mean,
    variance: days.mean * perDay.variance + perDay.mean ** 2 * days.variance,
  }
}

/**
 * Least point at which the share of demand met at once reaches a fill rate.
 *
 * @param leadTime demand over the lead time
 * @param order quantity ordered each time, > 0, and fill rate, 0 to 1 both excluded
 * @param exact counts what the next cycle would be short anyway: loss(s) − loss(s + Q)
 * @returns point in the unit of demand, whole for counts
 * @throws {CalcError} OUT_OF_RANGE
 * @source loss(s) = (1 − fill rate) Q (Silver, Pyke & Thomas, from memory)
 */
export function pointForFillRate(
  leadTime: Demand,
  order: { quantity: number; fillRate: number },
  exact = false,
): number {
  requireNumber('quantity', order.quantity, { above: 0 })
  requireNumber('fillRate', order.fillRate, { above: 0, max: 1 - 1e-9 })
  const allowed = (1 - order.fillRate) * order.quantity
  const shortAt = (point: number) =>
    expectedShortage(leadTime, point) -
    (exact ? expectedShortage(leadTime, point + order.quantity) : 0)
  let low = 0
  let high = Math.ceil(leadTime.mean + 40 * Math.sqrt(leadTime.variance) + 1)
  if (shortAt(low) <= allowed) return low
  const isWhole = leadTime.kind === 'count'
  while (high - low > (isWhole ? 1 : 1e-9)) {
    const middle = isWhole ? Math.floor((low + high) / 2) : (low + high) / 2
    if (shortAt(middle) <= allowed) high = middle
    else low = middle
  }
  return high
}

/** ∫ of the normal shortage from z up, in standard deviations squared. */
function secondLoss(z: number): number {
  const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)
  return ((z * z + 1) * normalCdf(-z, 0, 1) - z * density) / 2
}

/** Mean cost per time of holding and being short while stock runs from point + quantity down to the point, times quantity. */
function costOverCycle(terms: PointTerms, point: number, quantity: number): number {
  const { leadTime, costs } = terms
  if (leadTime.kind === 'count') {
    let sum = 0
    for (let level = point + 1; level <= point + quantity; level += 1) sum += costAt(terms, level)
    return sum
  }
  const sd = Math.sqrt(leadTime.variance)
  const z = (level: number) => (level - leadTime.mean) / sd
  return (
    costs.holding * quantity * (point + quantity / 2 - leadTime.mean) +
    (costs.holding + costs.shortage) *
      leadTime.variance *
      (secondLoss(z(point)) - secondLoss(z(point + quantity)))
  )
}

/** Also for levels below nought, where all that comes is waited for. */
function costAt({ leadTime, costs }: PointTerms, level: number): number {
  if (leadTime.kind === 'count' && level < 0) return costs.shortage * (leadTime.mean - level)
  if (level >= 0) return expectedCost({ demand: leadTime, level, costs })
  const moved = { ...leadTime, mean: leadTime.mean - level }
  return expectedCost({ demand: moved, level: 0, costs })
}

/**
 * Cost per time of ordering a quantity whenever the stock and what is on its way come down to a point.
 *
 * @param terms lead-time demand, rate, cost of an order, holding and waiting per unit and time
 * @returns (K λ + ∫ or Σ of the cost from point to point + quantity) / quantity
 * @throws {CalcError} OUT_OF_RANGE
 * @source Hadley & Whitin; Snyder & Shen, examples 5.1 and 5.8, demand normal or in whole units
 */
export function pointAndQuantityCost(
  terms: PointTerms,
  { point, quantity }: { point: number; quantity: number },
): number {
  requireNumber('quantity', quantity, { above: 0 })
  requireNumber('point', point)
  return (terms.fixedCost * terms.ratePerTime + costOverCycle(terms, point, quantity)) / quantity
}

/**
 * Best point for a quantity that is given: where the cost is the same at the point and one order above.
 *
 * @param terms normal demand
 */
export function pointForQuantity(terms: PointTerms, quantity: number): number {
  if (terms.leadTime.kind !== 'amount')
    throw new CalcError('OUT_OF_RANGE', 'kind', terms.leadTime.kind)
  const best = demandQuantile(terms.leadTime, criticalRatio(terms.costs))
  let [low, high] = [best - quantity, best]
  for (let step = 0; step < 100; step += 1) {
    const middle = (low + high) / 2
    if (costAt(terms, middle) > costAt(terms, middle + quantity)) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/**
 * Best point and quantity.
 *
 * @param terms normal demand, or counts
 * @returns point, quantity and cost per time
 * @throws {CalcError} OUT_OF_RANGE
 * @source normal: golden section over the quantity, the point by `pointForQuantity`; counts: Federgruen &
 *   Zheng 1992, the cheapest levels are taken one by one while the next costs less than the mean
 */
export function bestPointAndQuantity(terms: PointTerms): PointAndQuantity {
  return terms.leadTime.kind === 'count' ? bestInCounts(terms) : bestInAmounts(terms)
}

function bestInCounts(terms: PointTerms): PointAndQuantity {
  const first = demandQuantile(terms.leadTime, criticalRatio(terms.costs))
  let [low, high] = [first - 1, first] // levels low + 1 … high are in the cycle
  let sum = terms.fixedCost * terms.ratePerTime + costAt(terms, first)
  for (;;) {
    const [below, above] = [costAt(terms, low), costAt(terms, high + 1)]
    if (Math.min(below, above) >= sum / (high - low)) break
    sum += Math.min(below, above)
    if (below <= above) low -= 1
    else high += 1
  }
  return { point: low, quantity: high - low, cost: sum / (high - low) }
}

function bestInAmounts(terms: PointTerms): PointAndQuantity {
  const at = (quantity: number): PointAndQuantity => {
    const point = pointForQuantity(terms, quantity)
    return { point, quantity, cost: pointAndQuantityCost(terms, { point, quantity }) }
  }
  const usual = Math.sqrt((2 * terms.fixedCost * terms.ratePerTime) / terms.costs.holding)
  let [low, high] = [usual / 10, usual * 10]
  const share = (Math.sqrt(5) - 1) / 2
  for (let step = 0; step < 80; step += 1) {
    const [left, right] = [high - share * (high - low), low + share * (high - low)]
    if (at(left).cost < at(right).cost) high = right
    else low = left
  }
  return at((low + high) / 2)
}

/**
 * Point and quantity where being short costs per unit, not per time: quick, and usually safer than needed.
 *
 * @param terms normal demand; `costs.shortage` per unit short
 * @returns point and quantity that hold together, and what they cost by the same rule
 * @source expected-inventory-level approximation (Snyder & Shen, example 5.2)
 */
export function pointAndQuantityQuick(terms: PointTerms): PointAndQuantity {
  const { leadTime, ratePerTime, fixedCost, costs } = terms
  let quantity = Math.sqrt((2 * fixedCost * ratePerTime) / costs.holding)
  let point = leadTime.mean
  for (let round = 0; round < 200; round += 1) {
    const missed = (quantity * costs.holding) / (costs.shortage * ratePerTime)
    if (missed >= 1) throw new CalcError('OUT_OF_RANGE', 'shortage', costs.shortage)
    point = demandQuantile(leadTime, 1 - missed)
    const perOrder = fixedCost + costs.shortage * expectedShortage(leadTime, point)
    quantity = Math.sqrt((2 * ratePerTime * perOrder) / costs.holding)
  }
  const held = point - leadTime.mean + quantity / 2
  const perOrder = fixedCost + costs.shortage * expectedShortage(leadTime, point)
  return { point, quantity, cost: costs.holding * held + (ratePerTime * perOrder) / quantity }
}
