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

const MOST_DELIVERY_ROWS = 60

const rows = z.array(deliveryRowSchema).min(1, 'NO_ROWS').max(MOST_DELIVERY_ROWS, 'TOO_MANY')

export const deliverySchema = z.object({
  key: clientKey,
  siteId: idField,
  orderId: optionalId,
  supplierId: optionalId,
  note: optionalText(300),
  rows,
})
export type DeliveryInput = z.output<typeof deliverySchema>
