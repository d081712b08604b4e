import { z } from 'zod'
import { bestMinMax, minMaxCost, quickMinMax } from '../../lib/calc/order-min-max'
import {
  lotsForDays,
  orderingCost,
  orderQuantity,
  quantityAtBreaks,
  quantityPastBreaks,
  quantityWithWaiting,
  wholeOrder,
} from '../../lib/calc/order-size'
import { cylindersToKeep, keepingCost } from '../../lib/calc/rent-or-run-out'
import {
  bestPointAndQuantity,
  leadTimeMoments,
  pointAndQuantityCost,
  pointAndQuantityQuick,
  pointForFillRate,
  pointForQuantity,
  pointForService,
} from '../../lib/calc/reorder-point'
import { type CalcFunctions, calcFunction } from './calc-function'

const number = z.number()
const moments = z.strictObject({ mean: number, variance: number })
const demand = z.strictObject({ ...moments.shape, kind: z.enum(['count', 'amount']) })
const costs = z.strictObject({ holding: number, shortage: number })
const orderTerms = { demand: number, fixedCost: number, holding: number }
const breakTerms = z.strictObject({
  demand: number,
  fixedCost: number,
  holdingShare: number,
  breaks: z.array(z.strictObject({ from: number, price: number })).min(1),
})
const pointTerms = {
  leadTime: demand,
  ratePerTime: number,
  fixedCost: number,
  costs,
}
const minMaxTerms = { demand, period: demand, fixedCost: number, costs }
const rentTerms = {
  ratePerDay: number,
  rentPerDay: number,
  demurragePerDay: number,
  freeDays: number,
}

export const ORDER_DECISION_FUNCTIONS: CalcFunctions = {
  'order-quantity': calcFunction(
    'Quantity at which ordering and holding cost least, and what another quantity would cost',
    z.strictObject({ ...orderTerms, quantity: number.optional() }),
    ({ quantity, ...terms }) => ({
      ok: true,
      ...orderQuantity(terms),
      costAtQuantity: quantity === undefined ? null : orderingCost(terms, quantity),
    }),
  ),
  'order-quantity-breaks': calcFunction(
    'Best quantity where passing a break makes every unit cheaper, and where only those past it',
    breakTerms,
    ({ breaks, ...terms }) => ({
      ok: true,
      allUnits: quantityAtBreaks(terms, breaks),
      pastBreak: quantityPastBreaks(terms, breaks),
    }),
  ),
  'order-quantity-waiting': calcFunction(
    'Best quantity where a crew may wait, at a cost',
    z.strictObject({ ...orderTerms, waiting: number }),
    ({ waiting, ...terms }) => ({ ok: true, ...quantityWithWaiting(terms, waiting) }),
  ),
  'order-for-known-work': calcFunction(
    'When to order what for known work, day by day',
    z.strictObject({ demand: z.array(number).max(400), fixedCost: number, holding: number }),
    ({ demand, ...costs }) => ({ ok: true, ...lotsForDays(demand, costs) }),
  ),
  'order-in-pallets': calcFunction(
    'Whole cylinders for an amount of gas, and what rounding adds',
    z.strictObject({ amount: number, perCylinder: number, multiple: number }),
    ({ multiple, ...need }) => ({ ok: true, ...wholeOrder(need, multiple) }),
  ),
  'order-point': calcFunction(
    'Stock at which to order: by cycle service and by fill rate, with a lead time of its own spread',
    z.strictObject({
      perDay: moments,
      leadDays: moments,
      kind: z.enum(['count', 'amount']),
      service: number,
      fillRate: number,
      quantity: number,
    }),
    ({ perDay, leadDays, kind, service, ...order }) => {
      const leadTime = { ...leadTimeMoments(perDay, leadDays), kind }
      return {
        ok: true,
        leadTime,
        byService: pointForService(leadTime, service),
        byFillRate: pointForFillRate(leadTime, order),
        byFillRateExact: pointForFillRate(leadTime, order, true),
      }
    },
  ),
  'order-point-and-quantity': calcFunction(
    'Best stock to order at and quantity together, and the quick rule',
    z.strictObject(pointTerms),
    (terms) => ({
      ok: true,
      best: bestPointAndQuantity(terms),
      quick: terms.leadTime.kind === 'amount' ? pointAndQuantityQuick(terms) : null,
    }),
  ),
  'order-point-cost': calcFunction(
    'What ordering a quantity at a stock costs, and the best stock for that quantity',
    z.strictObject({ ...pointTerms, point: number, quantity: number }),
    ({ point, quantity, ...terms }) => ({
      ok: true,
      cost: pointAndQuantityCost(terms, { point, quantity }),
      bestPoint: terms.leadTime.kind === 'amount' ? pointForQuantity(terms, quantity) : null,
    }),
  ),
  'order-min-max': calcFunction(
    'At or below which stock to order, and up to which: best, and by a fitted formula',
    z.strictObject({
      ...minMaxTerms,
      ask: z.strictObject({ min: number, max: number }).optional(),
    }),
    ({ ask, ...terms }) => ({
      ok: true,
      best: bestMinMax(terms),
      quick: quickMinMax(terms),
      costAsked: ask ? minMaxCost(terms, ask) : null,
    }),
  ),
  'rent-or-run-out': calcFunction(
    'What keeping the n-th cylinder costs until it is needed, and how many to keep',
    z.strictObject({
      ...rentTerms,
      nth: number,
      downtimeCost: number,
      untilDelivery: demand,
      most: number,
    }),
    ({ nth, downtimeCost, untilDelivery, most, ...terms }) => ({
      ok: true,
      nth: keepingCost(terms, nth),
      keep: cylindersToKeep(terms, { cost: downtimeCost, untilDelivery }, most),
    }),
  ),
}
