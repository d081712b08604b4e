import { type Demand, demandCdf, demandQuantile, expectedShortage } from './demand'
import { requireNumber } from './errors'

/** What one too many and one too few cost, per unit of demand. */
export type OrderCosts = { holding: number; shortage: number }

/**
 * Service that balances the two costs: the chance of covering demand at which one more no longer pays.
 *
 * @returns scalar between 0 and 1: shortage / (holding + shortage)
 * @throws {CalcError} OUT_OF_RANGE for a cost that is not > 0
 * @source newsvendor (Snyder & Shen, Fundamentals of Supply Chain Theory, ch. 4)
 */
export function criticalRatio(costs: OrderCosts): number {
  requireNumber('holding', costs.holding, { above: 0 })
  requireNumber('shortage', costs.shortage, { above: 0 })
  return costs.shortage / (costs.holding + costs.shortage)
}

/**
 * Level to order up to: the quantile of demand over lead time and review.
 *
 * @param input demand over that time, and service as a probability
 * @returns level in the unit of demand; whole for counts
 * @source base-stock and (R, S) rules (Snyder & Shen, ch. 4)
 */
export function orderUpToLevel(input: { demand: Demand; service: number }): number {
  return demandQuantile(input.demand, input.service)
}

/**
 * Mean cost of holding too much and of being short, at a level.
 *
 * @param input demand, level >= 0, costs per unit
 * @returns scalar, in the costs' currency
 * @source holding E[(S − D)+] + shortage E[(D − S)+]
 */
export function expectedCost(input: { demand: Demand; level: number; costs: OrderCosts }): number {
  const { demand, level, costs } = input
  const short = expectedShortage(demand, level)
  return costs.holding * (level - demand.mean + short) + costs.shortage * short
}

/**
 * What a level gives under periodic review: share of cycles without shortage, and of demand met at once.
 *
 * @param input demand over lead time alone and over lead time and review; level
 * @returns cycleService and fillRate, 0 to 1
 * @source fill rate = 1 − (E[(D(L+R) − S)+] − E[(D(L) − S)+]) / E[D(R)]
 */
export function periodicReviewService(input: {
  leadTimeDemand: Demand
  protectedDemand: Demand
  level: number
}): {
  cycleService: number
  fillRate: number
} {
  const { leadTimeDemand, protectedDemand, level } = input
  const reviewMean = protectedDemand.mean - leadTimeDemand.mean
  const short = expectedShortage(protectedDemand, level) - expectedShortage(leadTimeDemand, level)
  return {
    cycleService: demandCdf(protectedDemand, level),
    fillRate: reviewMean > 0 ? Math.min(1, Math.max(0, 1 - short / reviewMean)) : 1,
  }
}
