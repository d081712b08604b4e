import { type Demand, demandCdf } from './demand'
import { requireNumber } from './errors'

export type RentTerms = Readonly<{
  /** Cylinders used a day, > 0. */
  ratePerDay: number
  rentPerDay: number
  /** From the end of the free days on, on top of rent. */
  demurragePerDay: number
  freeDays: number
}>

const poisson = (mean: number): Demand => ({ mean, variance: mean, kind: 'count' })

/**
 * What keeping the n-th cylinder costs until it is needed.
 *
 * @param terms use, rent, demurrage and the days that are free of it
 * @param nth 1 for the one that is needed first
 * @returns mean days until it is needed, those of them past the free days, and the mean cost
 * @throws {CalcError} OUT_OF_RANGE
 * @source E[T] = n/rate; E[(T − F)+] = (n/rate) P(N ≤ n) − F P(N ≤ n − 1), N Poisson of rate F
 */
export function keepingCost(
  terms: RentTerms,
  nth: number,
): { days: number; daysPastFree: number; cost: number } {
  requireNumber('ratePerDay', terms.ratePerDay, { above: 0 })
  requireNumber('rentPerDay', terms.rentPerDay, { min: 0 })
  requireNumber('demurragePerDay', terms.demurragePerDay, { min: 0 })
  requireNumber('freeDays', terms.freeDays, { min: 0 })
  requireNumber('nth', nth, { min: 1 })
  const days = nth / terms.ratePerDay
  const used = poisson(terms.ratePerDay * terms.freeDays)
  const daysPastFree = Math.max(
    0,
    days * demandCdf(used, nth) - terms.freeDays * demandCdf(used, nth - 1),
  )
  return {
    days,
    daysPastFree,
    cost: terms.rentPerDay * days + terms.demurragePerDay * daysPastFree,
  }
}

/**
 * How many full cylinders to keep: each is kept while a stand-still without it would cost more.
 *
 * @param terms as for `keepingCost`
 * @param downtime cost of standing still for want of one, and demand until the next delivery
 * @param most how many there are to judge
 * @returns the number kept; each one after that would go back
 * @throws {CalcError} OUT_OF_RANGE
 * @source marginal rule: keep n while its cost < downtime × P(demand ≥ n)
 */
export function cylindersToKeep(
  terms: RentTerms,
  downtime: { cost: number; untilDelivery: Demand },
  most: number,
): number {
  requireNumber('downtime.cost', downtime.cost, { min: 0 })
  requireNumber('most', most, { min: 0, max: 10_000 })
  for (let nth = 1; nth <= most; nth += 1) {
    const needed = 1 - demandCdf(downtime.untilDelivery, nth - 1)
    if (keepingCost(terms, nth).cost >= downtime.cost * needed) return nth - 1
  }
  return most
}
