import { z } from 'zod'
import { clientKey, dayField, idField, optionalText, requiredText } from './fields'

export const addInstrumentSchema = z.object({
  key: clientKey,
  siteId: idField,
  name: requiredText(80),
  model: requiredText(80),
})
export type AddInstrumentInput = z.infer<typeof addInstrumentSchema>

/** A bump test or a calibration, as it came out. */
export const checkInstrumentSchema = z
  .object({
    key: clientKey,
    instrumentId: idField,
    kind: z.enum(['bump', 'calibration'], 'CHOOSE_ONE'),
    onDay: dayField,
    validUntil: z
      .union([z.literal(''), dayField])
      .optional()
      .transform((value) => value || null),
    passed: z.enum(['yes', 'no'], 'CHOOSE_ONE').transform((value) => value === 'yes'),
    note: optionalText(),
  })
  .refine(({ kind, validUntil }) => kind === 'bump' || validUntil !== null, {
    path: ['validUntil'],
    message: 'ENTER_A_DAY',
  })
export type CheckInstrumentInput = z.infer<typeof checkInstrumentSchema>
