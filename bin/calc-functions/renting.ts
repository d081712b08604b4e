import { z } from 'zod'
import { rentOf } from '../../lib/calc/rent'
import { checkStatement } from '../../lib/calc/statement-check'
import { type CalcFunctions, calcFunction } from './calc-function'

const number = z.number()
const stay = z.strictObject({
  serial: z.string(),
  sizeId: z.string(),
  fromDay: number,
  toDay: number.nullable(),
})
const terms = z.strictObject({
  freeDays: number,
  rentMinorPerDay: number,
  demurrageFromDay: number.nullable(),
  demurrageMinorPerDay: number,
})
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
  'rental-statement': calcFunction(
    'A supplier’s rental statement beside the record: what to dispute, row by row',
    z.strictObject({
      rows: z.array(row),
      stays: z.array(stay),
      ours: z.array(z.string()),
      termsBySize: z.record(z.string(), terms),
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
          termsOf: (sizeId) => termsBySize[sizeId] ?? null,
        }),
      }
    },
  ),
}
