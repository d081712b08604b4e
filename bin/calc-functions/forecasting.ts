import { z } from 'zod'
import { backtest, USUAL_BACKTEST } from '../../lib/calc/backtest'
import { priorFromSites, siteLikeness } from '../../lib/calc/cold-start'
import { adaptAlpha, conformalBound, conformalQuantile } from '../../lib/calc/conformal'
import { demandClass } from '../../lib/calc/demand-class'
import {
  DEMAND_METHODS,
  demandMean,
  demandVariance,
  emptyDemand,
  learnDemand,
} from '../../lib/calc/demand-methods'
import {
  coverage,
  forecastBias,
  meanAbsoluteScaledError,
  pinballLoss,
  plainErrors,
  rootMeanSquaredScaledError,
} from '../../lib/calc/forecast-accuracy'
import { type CalcFunctions, calcFunction } from './calc-function'

const number = z.number()
const demand = z.array(number.min(0)).min(1).max(100_000)
const chance = number.gt(0).lt(1)
const traits = z.strictObject({
  fuel: z.string(),
  process: z.string(),
  crewPeople: number.min(0),
  indoors: z.boolean(),
})

export const FORECASTING_FUNCTIONS: CalcFunctions = {
  'demand-class': calcFunction(
    'Smooth, erratic, intermittent or lumpy: by interval and spread of sizes',
    z.strictObject({ demand }),
    (input) => ({ ok: true, ...demandClass(input.demand) }),
  ),
  'demand-methods': calcFunction(
    'Demand of a coming period by every method, and its variance',
    z.strictObject({ demand }),
    (input) => {
      const state = emptyDemand()
      for (const value of input.demand) learnDemand(state, value)
      const means = DEMAND_METHODS.map((method) => [method, demandMean(state, method)])
      return { ok: true, means: Object.fromEntries(means), variance: demandVariance(state) }
    },
  ),
  'demand-backtest': calcFunction(
    'The chosen forecast against its challengers on equally long series, origin by origin',
    z.strictObject({
      series: z.array(demand).min(1).max(10_000),
      plan: z
        .strictObject({
          horizon: number.int().min(1),
          origins: number.int().min(1),
          learnFrom: number.int().min(1),
          warmUp: number.int().min(2),
          bound: z.enum(['learned', 'ordered']).default('learned'),
        })
        .default(USUAL_BACKTEST),
    }),
    ({ series, plan }) => ({ ok: true, ...backtest(series, plan) }),
  ),
  'demand-bound': calcFunction(
    'Whole units that demand stays under, by how far past windows lay from their forecasts',
    z.strictObject({
      mean: number.min(0),
      variance: number.min(0),
      scores: z.array(number).max(1_000_000),
      probability: chance,
    }),
    ({ mean, variance, scores, probability }) => {
      const score = conformalQuantile(Float64Array.from(scores).sort(), probability)
      const bound = score === null ? null : conformalBound({ mean, variance, score })
      return { ok: true, score, bound }
    },
  ),
  'demand-adapt': calcFunction(
    'Chance of a miss to ask for next, after a bound held or was passed',
    z.strictObject({ alpha: chance, target: chance, missed: z.boolean() }),
    ({ missed, ...asked }) => ({ ok: true, alpha: adaptAlpha(asked, missed) }),
  ),
  'forecast-errors': calcFunction(
    'How forecasts did: scaled and plain errors, bias, loss of bounds and the share that held',
    z.strictObject({
      pairs: z
        .array(z.strictObject({ forecast: number, actual: number, bound: number }))
        .min(1)
        .max(100_000),
      history: z.array(number).min(1).max(100_000),
      probability: chance,
    }),
    ({ pairs, history, probability }) => ({
      ok: true,
      ...plainErrors(pairs),
      mase: meanAbsoluteScaledError(pairs, history),
      rmsse: rootMeanSquaredScaledError(pairs, history),
      bias: forecastBias(pairs),
      pinball:
        pairs.reduce((sum, { bound, actual }) => sum + pinballLoss(bound, actual, probability), 0) /
        pairs.length,
      coverage: coverage({
        held: pairs.filter(({ bound, actual }) => actual <= bound).length,
        count: pairs.length,
      }),
    }),
  ),
  'site-prior': calcFunction(
    'Where a site without history starts: from sites like it',
    z.strictObject({
      site: traits,
      others: z
        .array(z.strictObject({ ...traits.shape, cylinders: number, days: number }))
        .max(100_000),
    }),
    ({ site, others }) => ({
      ok: true,
      ...priorFromSites(
        others.map((other) => ({
          cylinders: other.cylinders,
          days: other.days,
          likeness: siteLikeness(site, other),
        })),
      ),
    }),
  ),
}
