import { z } from 'zod'
import { clientKey, idField, optionalId, requiredText } from './fields'
import { day, emptyIsAbsent, wholeNumber } from './measure'
import { money } from './rent'

const MOST_DAYS = 60
const MOST_CYLINDERS = 1_000

const days = wholeNumber
  .refine((value) => value >= 0, 'NEGATIVE')
  .refine((value) => value <= MOST_DAYS, 'TOO_LARGE')
const cylinders = wholeNumber
  .refine((value) => value >= 1, 'NOT_POSITIVE')
  .refine((value) => value <= MOST_CYLINDERS, 'TOO_LARGE')
const emailOrNone = emptyIsAbsent(
  z.string().trim().toLowerCase().max(200, 'TOO_LONG').pipe(z.email('ENTER_EMAIL')),
).transform((value) => value ?? null)

export const supplierSchema = z.object({
  key: clientKey,
  /** Where whoever says so orders. */
  siteId: idField,
  /** None: a new one. */
  supplierId: optionalId,
  name: requiredText(80),
  leadDays: days,
  orderEmail: emailOrNone,
  deliveryFee: emptyIsAbsent(money).transform((value) => value ?? 0),
})
export type SupplierInput = z.output<typeof supplierSchema>

export const priceSchema = z.object({
  key: clientKey,
  siteId: idField,
  supplierId: idField,
  sizeId: requiredText(40),
  fill: money,
  rentPerDay: emptyIsAbsent(money).transform((value) => value ?? 0),
  validFrom: day,
})
export type PriceInput = z.output<typeof priceSchema>

const BREAK_ROWS = 3
const list = z.array(z.string()).default([])

export type QuantityBreak = Readonly<{ from: number; offMinor: number }>

/** Rows of "from so many cylinders on, each costs so much less": both boxes or neither, rising. */
const breaksOf = (from: readonly string[], off: readonly string[]) => {
  const rows = from
    .slice(0, BREAK_ROWS)
    .map((typed, row) => ({ from: typed.trim(), off: (off[row] ?? '').trim() }))
    .filter((row) => row.from !== '' || row.off !== '')
    .map((row) => ({ from: cylinders.safeParse(row.from), off: money.safeParse(row.off) }))
  if (rows.some((row) => !row.from.success || !row.off.success)) return null
  const breaks = rows.map((row) => ({ from: row.from.data ?? 0, offMinor: row.off.data ?? 0 }))
  const isRising = breaks.every(
    (one, i) =>
      i === 0 ||
      (one.from > (breaks[i - 1]?.from ?? 0) && one.offMinor > (breaks[i - 1]?.offMinor ?? 0)),
  )
  return isRising ? breaks : null
}

export const agreementSchema = z
  .object({
    key: clientKey,
    siteId: idField,
    supplierId: idField,
    leadDays: days,
    deliveryDays: z
      .array(z.enum(['1', '2', '3', '4', '5', '6', '7']))
      .default([])
      .transform((all) => all.map(Number)),
    least: cylinders,
    most: emptyIsAbsent(cylinders).transform((value) => value ?? null),
    deliveryFee: emptyIsAbsent(money).transform((value) => value ?? 0),
    breakFrom: list,
    breakOff: list,
    validFrom: day,
  })
  .transform(({ breakFrom, breakOff, ...typed }, context) => {
    if (typed.most !== null && typed.most < typed.least)
      context.addIssue({ code: 'custom', path: ['most'], message: 'LESS_THAN_LEAST' })
    const breaks = breaksOf(breakFrom, breakOff)
    if (!breaks) context.addIssue({ code: 'custom', path: ['breakFrom'], message: 'BREAKS_RISE' })
    return { ...typed, breaks: breaks ?? [] }
  })
export type AgreementInput = z.output<typeof agreementSchema>
