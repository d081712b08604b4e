import { z } from 'zod'
import { serial } from './cylinder'
import { clientKey, idField, optionalId, optionalText, requiredText } from './fields'
import { optionalDay, optionalMonth } from './measure'

export const deliveryRowSchema = z.object({
  serial,
  sizeId: requiredText(40),
  filledOn: optionalDay,
  dueMonth: optionalMonth,
  /** When the plate says a later month than the record: the day of that test. */
  requalifiedOn: optionalDay,
})
export type DeliveryRow = z.output<typeof deliveryRowSchema>

export const MOST_DELIVERY_ROWS = 60

/** The rows come as one JSON field, so that what was typed is kept whole through a refusal. */
const rowsField = z
  .string({ error: 'SAY_IT' })
  .transform((text, context): unknown => {
    try {
      return JSON.parse(text)
    } catch {
      context.addIssue({ code: 'custom', message: 'NOT_ROWS' })
      return z.NEVER
    }
  })
  .pipe(z.array(deliveryRowSchema).min(1, 'NO_ROWS').max(MOST_DELIVERY_ROWS, 'TOO_MANY'))

export const deliverySchema = z.object({
  key: clientKey,
  siteId: idField,
  orderId: optionalId,
  supplierId: optionalId,
  note: optionalText(300),
  rows: rowsField,
})
export type DeliveryInput = z.output<typeof deliverySchema>
