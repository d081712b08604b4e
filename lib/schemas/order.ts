import { z } from 'zod'
import { clientKey, dayField, idField, requiredText, versionField } from './fields'

const MOST_CYLINDERS = 200

/** One size and how many of it; an empty box orders none. */
export const quantityField = z
  .string()
  .trim()
  .regex(/^\d{0,3}$/, 'WHOLE_NUMBER')
  .transform((text) => (text === '' ? 0 : Number(text)))
  .pipe(z.number().max(MOST_CYLINDERS))

export const asList = (value: unknown) =>
  Array.isArray(value) ? value : value === undefined ? [] : [value]

export const confirmOrderSchema = z
  .object({
    key: clientKey,
    siteId: idField,
    supplierId: idField,
    dueOn: dayField,
    sizeId: z.preprocess(asList, z.array(z.string().min(1).max(60)).max(40)),
    quantity: z.preprocess(asList, z.array(quantityField).max(40)),
  })
  .refine((order) => order.sizeId.length === order.quantity.length, {
    path: ['quantity'],
    message: 'NOT_UNDERSTOOD',
  })
  .refine((order) => order.quantity.some((count) => count > 0), {
    path: ['quantity'],
    message: 'ORDER_EMPTY',
  })
export type ConfirmOrderInput = z.output<typeof confirmOrderSchema>

export const cancelOrderSchema = z.object({
  key: clientKey,
  orderId: idField,
  version: versionField,
})
export type CancelOrderInput = z.output<typeof cancelOrderSchema>

const MOST_DAYS_LATE = 60

export const delayOrderSchema = z.object({
  key: clientKey,
  orderId: idField,
  days: z
    .string()
    .trim()
    .regex(/^[1-9]\d?$/, 'WHOLE_NUMBER')
    .transform(Number)
    .pipe(z.number().max(MOST_DAYS_LATE, 'WHOLE_NUMBER')),
  reason: requiredText(200),
})
export type DelayOrderInput = z.output<typeof delayOrderSchema>
