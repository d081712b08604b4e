import { z } from 'zod'
import { serial } from './cylinder'
import { clientKey, idField, optionalId, optionalText, requiredText } from './fields'
import { optionalDay, optionalMonth, ticked } from './measure'

/** What becomes of a row: taken in, taken in and held back, or left on the truck. */
export const OUTCOMES = [
  'take',
  'held_dent',
  'held_corrosion',
  'held_leak',
  'held_heat_damage',
  'refused_wrong',
  'refused_overdue',
  'refused_damaged',
  'refused_extra',
] as const
export type Outcome = (typeof OUTCOMES)[number]
export const isRefused = (outcome: Outcome) => outcome.startsWith('refused_')

export const deliveryRowSchema = z.object({
  serial,
  sizeId: requiredText(40),
  filledOn: optionalDay,
  dueMonth: optionalMonth,
  /** When the plate says a later month than the record: the day of that test. */
  requalifiedOn: optionalDay,
  /** The filler's batch, as its label says. */
  batch: optionalText(60),
  outcome: z.enum(OUTCOMES).default('take'),
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
  /** Where they are put down. */
  areaId: optionalId.default(null),
  storageConfirmed: ticked,
  rows,
})
export type DeliveryInput = z.output<typeof deliverySchema>

export const SETTLEMENTS = ['replaced', 'credited', 'returned', 'kept', 'reordered'] as const
export const settleSchema = z.object({
  key: clientKey,
  differenceId: idField,
  how: z.enum(SETTLEMENTS),
  note: optionalText(300),
})
export type SettleInput = z.output<typeof settleSchema>

export const holdBatchSchema = z.object({
  key: clientKey,
  deliveryId: idField,
  batch: requiredText(60),
  reason: requiredText(300),
})
export type HoldBatchInput = z.output<typeof holdBatchSchema>
