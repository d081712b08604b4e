import type { Refused } from './refusal'
import type { Source } from './source'

/** A planned task's demand, in whole-cylinder equivalents. */
export type PlannedTask = {
  taskId: string
  cylinders: number
  /** Chance that it runs within the horizon, 0 to 1. */
  chance: number
  /** Crew or process that shares a factor. */
  groupId: string
  factorMean: number
  factorVariance: number
  /** Squared coefficient of variation of one task around its factor. */
  taskCv2: number
  /** First and last day of the task, counted from today = 1. Spread evenly between. */
  fromDay: number
  toDay: number
  /** Chance of beginning 0, 1, 2 … days late, adding up to 1. On time for sure unless given. */
  lateChances?: readonly number[]
}

/** Moments of demand that nobody planned, over H days: mean H, variance a H + b H². */
export type UnplannedDemand = {
  meanPerDay: number
  variancePerDay: number
  /** Of not knowing the rate: grows with the square of the days. */
  variancePerDaySquared: number
}

export type ForecastInput = {
  planned: PlannedTask[]
  /** In place of the rate that is learned from the counts: what the method chosen for its class says. */
  unplanned?: UnplannedDemand
  /** All variance times this, so that the high end is where past misses put it. Default 1. */
  widenBy?: number
  /** Cylinders emptied per day beyond what was planned, oldest first. */
  baselineDailyCounts: number[]
  /** Fleet prior: shape A cylinders over B days. Default weak: 0.5 over 10. */
  prior?: { cylinders: number; days: number }
  /** Full-cylinder equivalents that can be used now. */
  stockCylinders: number
  arrivals?: { day: number; cylinders: number }[]
  horizonDays: number
  /** Short is called at this chance of running out. Default 0.05. */
  chance?: number
  leadTimeDays?: number
  reviewDays?: number
  /** What one cylinder too many and one too few cost; then service follows from them instead of `chance`. */
  costs?: { holding: number; shortage: number }
}

/** Cumulative demand to the end of a day, and what is left, by quantile. */
export type ForecastDay = {
  day: number
  demandMean: number
  demandVariance: number
  /** At 5, 27.5, 50, 72.5 and 95 %. */
  demandQuantiles: number[]
  /** Stock and arrivals less demand, at the same chances of being lower. */
  remainingQuantiles: number[]
  /** Chance that demand has passed stock and arrivals by the end of this day. */
  shortChance: number
}

export type SiteOutlook = {
  /** First day on which the chance of being short reaches `chance`; null beyond the horizon. */
  daysUntilShort: number | null
  /** First day by which short has this chance; null beyond the horizon. */
  shortDayQuantiles: { probability: number; day: number | null }[]
}

export type SiteForecast = SiteOutlook & {
  ok: true
  calcVersion: string
  days: ForecastDay[]
  /** Order-up-to by the quantile 1 − chance of demand over lead time and review, and what to order. */
  orderUpTo: {
    level: number
    orderCylinders: number
    overDays: number
    service: number
    /** Of the level itself: share of cycles without shortage, and of demand met at once. */
    cycleService: number
    fillRate: number
    expectedCost: number | null
  }
  baseline: { cylinders: number; days: number; meanPerDay: number }
  source: Source
}

export type ForecastOutcome = SiteForecast | Refused
export type OutlookOutcome = ({ ok: true } & SiteOutlook) | Refused

export const FORECAST_PROBABILITIES = [0.05, 0.275, 0.5, 0.725, 0.95] as const
