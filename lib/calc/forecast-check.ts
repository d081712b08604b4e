import type { ForecastInput } from './forecast-types'
import type { Refusal } from './refusal'

/** A longer look ahead says nothing, and a bounded answer stays small. */
export const MAX_HORIZON_DAYS = 120
const MAX_CYLINDERS = 10_000

type Limit = { min?: number; max?: number; above?: number; whole?: boolean }

/** Every reason why a site can't be forecast, at once. */
export function forecastRefusals(input: ForecastInput): Refusal[] {
  const refusals: Refusal[] = []
  const needs = (field: string, value: number | undefined, { whole, ...limit }: Limit) => {
    if (value === undefined) return
    const { min = -Infinity, max = Infinity, above = -Infinity } = limit
    const inside = value >= min && value <= max && value > above && Number.isFinite(value)
    if (!inside || (whole && !Number.isInteger(value)))
      refusals.push({ code: 'OUT_OF_RANGE', field, value, limit })
  }
  needs('horizonDays', input.horizonDays, { min: 1, max: MAX_HORIZON_DAYS, whole: true })
  needs('stockCylinders', input.stockCylinders, { min: 0, max: MAX_CYLINDERS })
  needs('chance', input.chance, { min: 0.001, max: 0.5 })
  needs('leadTimeDays', input.leadTimeDays, { min: 0, max: MAX_HORIZON_DAYS, whole: true })
  needs('reviewDays', input.reviewDays, { min: 1, max: MAX_HORIZON_DAYS, whole: true })
  needs('prior.cylinders', input.prior?.cylinders, { above: 0, max: MAX_CYLINDERS })
  needs('prior.days', input.prior?.days, { above: 0 })
  needs('costs.holding', input.costs?.holding, { above: 0 })
  needs('costs.shortage', input.costs?.shortage, { above: 0 })
  for (const [i, count] of input.baselineDailyCounts.entries()) {
    needs(`baselineDailyCounts.${i}`, count, { min: 0, max: MAX_CYLINDERS })
  }
  for (const [i, arrival] of (input.arrivals ?? []).entries()) {
    needs(`arrivals.${i}.day`, arrival.day, { min: 0, whole: true })
    needs(`arrivals.${i}.cylinders`, arrival.cylinders, { min: 0, max: MAX_CYLINDERS })
  }
  for (const [i, task] of input.planned.entries()) {
    needs(`planned.${i}.cylinders`, task.cylinders, { min: 0, max: MAX_CYLINDERS })
    needs(`planned.${i}.chance`, task.chance, { min: 0, max: 1 })
    needs(`planned.${i}.factorMean`, task.factorMean, { above: 0, max: 10 })
    needs(`planned.${i}.factorVariance`, task.factorVariance, { min: 0, max: 10 })
    needs(`planned.${i}.taskCv2`, task.taskCv2, { min: 0, max: 10 })
    needs(`planned.${i}.fromDay`, task.fromDay, { min: 1, whole: true })
    needs(`planned.${i}.toDay`, task.toDay, { min: task.fromDay, whole: true })
  }
  return refusals
}
