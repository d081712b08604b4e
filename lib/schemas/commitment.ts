import { z } from 'zod'
import { clientKey, dayField, idField } from './fields'
import { asList, quantityField } from './order'

/** A move or a return as the plan has it. */
export const commitSchema = z
  .object({
    key: clientKey,
    kind: z.enum(['move', 'return']),
    siteId: idField,
    toSiteId: z.preprocess((value) => (value === '' ? undefined : value), idField.optional()),
    dueOn: dayField,
    withPapers: z.preprocess((value) => value === 'yes', z.boolean()),
    sizeId: z.preprocess(asList, z.array(z.string().min(1).max(60)).min(1).max(40)),
    quantity: z.preprocess(asList, z.array(quantityField).min(1).max(40)),
  })
  .refine((input) => input.sizeId.length === input.quantity.length, {
    path: ['quantity'],
    message: 'NOT_UNDERSTOOD',
  })
  .refine((input) => input.quantity.every((count) => count > 0), {
    path: ['quantity'],
    message: 'ORDER_EMPTY',
  })
  .refine((input) => (input.kind === 'move') === (input.toSiteId !== undefined), {
    path: ['toSiteId'],
    message: 'NOT_UNDERSTOOD',
  })
export type CommitInput = z.output<typeof commitSchema>

export const endCommitmentSchema = z.object({
  key: clientKey,
  commitmentId: idField,
  as: z.enum(['done', 'cancelled']),
})
export type EndCommitmentInput = z.output<typeof endCommitmentSchema>
