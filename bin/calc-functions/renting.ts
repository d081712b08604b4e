import { z } from 'zod'
import { gasDrawn } from '../../lib/calc/gas-drawn'
import { holdingCost, spansOfDays } from '../../lib/calc/holding-cost'
import { checkInvoice } from '../../lib/calc/invoice-check'
import { rentByDay, rentOf } from '../../lib/calc/rent'
import { staysOf } from '../../lib/calc/rent-stays'
import { checkStatement } from '../../lib/calc/statement-check'
import { type CalcFunctions, calcFunction } from './calc-function'

const number = z.number()
const stay = z.strictObject({
  serial: z.string(),
  sizeId: z.string(),
  fromDay: number,
  toDay: number.nullable(),
  rentFromDay: number.optional(),
})
const terms = z.strictObject({
  freeDays: number,
  rentMinorPerDay: number,
  demurrageFromDay: number.nullable(),
  demurrageMinorPerDay: number,
})
const datedTerms = z.array(terms.extend({ validFromDay: number }))
const period = z.strictObject({ fromDay: number, toDay: number })
const row = z.strictObject({
  row: number,
  serial: z.string(),
  days: number.nullable(),
  amountMinor: number,
})

export const RENTING_FUNCTIONS: CalcFunctions = {
  rent: calcFunction(
    'What a stay of a cylinder costs within a period: free days, rent, demurrage',
    z.strictObject({ stay, terms, period }),
    (input) => ({ ok: true, ...rentOf(input.stay, input.terms, input.period) }),
  ),
  'rent-by-day': calcFunction(
    'What a stay costs within a period in which the terms changed, each day by its own terms',
    z.strictObject({ stay, terms: datedTerms, period }),
    (input) => ({ ok: true, ...rentByDay(input.stay, input.terms, input.period) }),
  ),
  'rent-stays': calcFunction(
    'Stays of rented cylinders at a site, from the entries that moved them; each day is one site’s',
    z.strictObject({
      siteId: z.string(),
      entries: z.array(
        z.strictObject({
          cylinderId: z.string(),
          serial: z.string(),
          sizeId: z.string(),
          supplierId: z.string().nullable(),
          kind: z.string(),
          siteId: z.string(),
          toSiteId: z.string().nullable(),
          day: number,
        }),
      ),
    }),
    ({ siteId, entries }) => ({ ok: true, stays: staysOf(entries, siteId) }),
  ),
  'holding-cost': calcFunction(
    'What cylinders cost on the days that are named: rent, demurrage, gas at its price, lost deposits',
    z.strictObject({
      held: z.array(z.strictObject({ stay, terms: datedTerms, days: z.array(number) })),
      drawn: z.array(z.strictObject({ kg: number, minorPerKg: number.nullable() })),
      lost: z.array(
        z.strictObject({
          count: z.union([z.literal(1), z.literal(-1)]),
          depositMinor: number.nullable(),
        }),
      ),
    }),
    ({ held, ...rest }) => ({
      ok: true,
      ...holdingCost({
        ...rest,
        held: held.map(({ days, ...one }) => ({ ...one, spans: spansOfDays(days) })),
      }),
    }),
  ),
  'gas-drawn': calcFunction(
    'Gas drawn while cylinders hung on outfits, from their record, entry by entry',
    z.array(
      z.strictObject({
        cylinderId: z.string(),
        day: number,
        siteId: z.string(),
        jobId: z.string().nullable(),
        kind: z.string(),
        contentsKg: number.nullable(),
        markedEmpty: z.boolean(),
        nominalKg: number,
        heelKg: number,
      }),
    ),
    (entries) => ({ ok: true, drawn: gasDrawn(entries) }),
  ),
  'rental-statement': calcFunction(
    'A supplier’s rental statement beside the record: what to dispute, row by row',
    z.strictObject({
      rows: z.array(row),
      stays: z.array(stay),
      ours: z.array(z.string()),
      termsBySize: z.record(z.string(), datedTerms),
      period,
      toleranceMinor: number,
    }),
    ({ ours, termsBySize, ...check }) => {
      const isOurs = new Set(ours)
      return {
        ok: true,
        ...checkStatement({
          ...check,
          isOurs: (serial) => isOurs.has(serial),
          termsOf: (sizeId) => termsBySize[sizeId] ?? [],
        }),
      }
    },
  ),
  'supplier-invoice': calcFunction(
    'A supplier’s invoice of a delivery beside what came and was agreed: what to dispute, row by row',
    z.strictObject({
      rows: z.array(
        z.strictObject({
          row: number,
          item: z.discriminatedUnion('kind', [
            z.strictObject({ kind: z.literal('serial'), serial: z.string() }),
            z.strictObject({ kind: z.literal('fill'), sizeId: z.string() }),
            z.strictObject({ kind: z.literal('deposit'), sizeId: z.string() }),
            z.strictObject({ kind: z.literal('fee') }),
            z.strictObject({ kind: z.literal('other') }),
          ]),
          quantity: number,
          amountMinor: number,
        }),
      ),
      received: z.array(z.strictObject({ serial: z.string(), sizeId: z.string() })),
      notPaid: z.array(z.string()),
      fillBySize: z.record(z.string(), number),
      depositBySize: z.record(z.string(), number),
      feeMinor: number.nullable(),
      toleranceMinor: number,
    }),
    ({ fillBySize, depositBySize, ...input }) => ({
      ok: true,
      ...checkInvoice({
        ...input,
        fillOf: (sizeId) => fillBySize[sizeId] ?? null,
        depositOf: (sizeId) => depositBySize[sizeId] ?? null,
      }),
    }),
  ),
}
