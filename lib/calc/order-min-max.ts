import { type Demand, demandCdf, demandQuantile } from './demand'
import { requireNumber } from './errors'
import { criticalRatio, expectedCost, type OrderCosts } from './order-level'

export type MinMaxTerms = Readonly<{
  /** Demand of lead time and one period. */
  demand: Demand
  /** Demand of one period; the same where the lead time is nought. */
  period: Demand
  fixedCost: number
  costs: OrderCosts
}>
export type MinMax = Readonly<{ min: number; max: number; cost: number }>

/** What a policy costs, kept between looks: chances of a period's demand and the renewal sums over it. */
class Renewals {
  private readonly chances: number[] = []
  private readonly mass: number[] = []
  private readonly time: number[] = [0]
  private readonly costs = new Map<number, number>()

  constructor(private readonly terms: MinMaxTerms) {}

  private chanceOf(k: number): number {
    for (let next = this.chances.length; next <= k; next += 1) {
      const before = next === 0 ? 0 : demandCdf(this.terms.period, next - 1)
      this.chances.push(demandCdf(this.terms.period, next) - before)
    }
    return this.chances[k] ?? 0
  }

  /** Mean visits at `j` below the top before the next order. */
  private visits(j: number): number {
    for (let next = this.mass.length; next <= j; next += 1) {
      let sum = next === 0 ? 1 : 0
      for (let used = 1; used <= next; used += 1)
        sum += this.chanceOf(used) * (this.mass[next - used] ?? 0)
      this.mass.push(sum / (1 - this.chanceOf(0)))
      this.time.push((this.time[next] ?? 0) + (this.mass[next] ?? 0))
    }
    return this.mass[j] ?? 0
  }

  /** Cost of a period at a level; below nought everything is waited for. */
  at(level: number): number {
    const known = this.costs.get(level)
    if (known !== undefined) return known
    const { demand, costs } = this.terms
    const cost =
      level < 0 ? costs.shortage * (demand.mean - level) : expectedCost({ demand, level, costs })
    this.costs.set(level, cost)
    return cost
  }

  of(min: number, max: number): number {
    let sum = this.terms.fixedCost
    for (let j = 0; j < max - min; j += 1) sum += this.visits(j) * this.at(max - j)
    return sum / (this.time[max - min] ?? 1)
  }
}

function checkTerms({ demand, period, fixedCost }: MinMaxTerms): void {
  requireNumber('demand.mean', demand.mean, { above: 0, max: 1e4 })
  requireNumber('period.mean', period.mean, { above: 0, max: 1e4 })
  requireNumber('fixedCost', fixedCost, { above: 0 })
}

/**
 * Cost of a period under "at or below the minimum, order up to the maximum".
 *
 * @param terms demand in whole units, cost of an order, holding and shortage per unit and period
 * @throws {CalcError} OUT_OF_RANGE
 * @source renewal form of Zheng & Federgruen 1991
 */
export function minMaxCost(terms: MinMaxTerms, { min, max }: { min: number; max: number }): number {
  checkTerms(terms)
  requireNumber('max', max, { min: min + 1 })
  return new Renewals(terms).of(min, max)
}

/**
 * Best minimum and maximum: order when at or below the one, up to the other.
 *
 * @param terms as for `minMaxCost`
 * @returns minimum, maximum and cost of a period
 * @throws {CalcError} OUT_OF_RANGE
 * @source Zheng & Federgruen 1991, Operations Research 39:654
 */
export function bestMinMax(terms: MinMaxTerms): MinMax {
  checkTerms(terms)
  const renewals = new Renewals(terms)
  let max = demandQuantile(terms.demand, criticalRatio(terms.costs))
  let min = max - 1
  while (renewals.of(min, max) > renewals.at(min)) min -= 1
  let cost = renewals.of(min, max)
  for (let higher = max + 1; renewals.at(higher) <= cost; higher += 1) {
    if (renewals.of(min, higher) >= cost) continue
    max = higher
    while (renewals.of(min, max) <= renewals.at(min + 1)) min += 1
    cost = renewals.of(min, max)
  }
  return { min, max, cost }
}

/**
 * Minimum and maximum by a fitted formula, where the best would take long or demand is not in whole units.
 *
 * @param terms as for `minMaxCost`; mean and variance of one period and of lead time and period
 * @returns minimum and maximum
 * @remarks Plain form: a maximum below the newsvendor's level, for cheap orders, is not corrected.
 * @source power approximation (Ehrhardt & Mosier 1984; Snyder & Shen, example 4.8)
 */
export function quickMinMax(terms: MinMaxTerms): { min: number; max: number } {
  checkTerms(terms)
  const { demand, period, fixedCost, costs } = terms
  const sd = Math.sqrt(demand.variance)
  const quantity =
    1.3 *
    period.mean ** 0.494 *
    (fixedCost / costs.holding) ** 0.506 *
    (1 + demand.variance / period.mean ** 2) ** 0.116
  const z = Math.sqrt((quantity * costs.holding) / (sd * costs.shortage))
  const min = 0.973 * demand.mean + sd * (0.183 / z + 1.063 - 2.192 * z)
  return { min, max: min + quantity }
}
