import { z } from 'zod'
import { demandCdf, demandQuantile, expectedShortage } from '../../lib/calc/demand'
import { orderCostMinor } from '../../lib/calc/order-cost'
import { criticalRatio, expectedCost, orderUpToLevel } from '../../lib/calc/order-level'
import { timeToChange } from '../../lib/calc/time-to-change'
import { type CalcFunctions, calcFunction } from './calc-function'

const number = z.number()
const demand = z.strictObject({
  mean: number,
  variance: number,
  kind: z.enum(['count', 'amount']),
})
const costs = z.strictObject({ holding: number, shortage: number })

export const SUPPLY_FUNCTIONS: CalcFunctions = {
  'time-to-change': calcFunction(
    'When a cylinder comes down to where it is changed',
    z.strictObject({
      contentsKg: number,
      contentsStandardUncertaintyKg: number,
      reserveKg: number,
      needKg: number,
      needStandardUncertaintyKg: number,
      needS: number,
    }),
    (known) => ({ ok: true, ...timeToChange(known) }),
  ),
  demand: calcFunction(
    'Chance that a level covers demand, and what would be short',
    z.strictObject({ demand, level: number }),
    (known) => ({
      ok: true,
      covered: demandCdf(known.demand, known.level),
      shortage: expectedShortage(known.demand, known.level),
    }),
  ),
  'demand-quantile': calcFunction(
    'Level that demand stays under with a probability',
    z.strictObject({ demand, probability: number }),
    (known) => ({ ok: true, level: demandQuantile(known.demand, known.probability) }),
  ),
  'order-level': calcFunction(
    'Level to order up to, by what one too many and one too few cost',
    z.strictObject({ demand, costs }),
    (known) => {
      const service = criticalRatio(known.costs)
      const level = orderUpToLevel({ demand: known.demand, service })
      return { ok: true, service, level, expectedCost: expectedCost({ ...known, level }) }
    },
  ),
  'order-cost': calcFunction(
    'What an order costs: fills and one delivery',
    z.strictObject({
      lines: z.array(z.strictObject({ quantity: number, fillMinor: number.nullable() })),
      deliveryFeeMinor: number,
    }),
    (order) => ({ ok: true, costMinor: orderCostMinor(order) }),
  ),
}
