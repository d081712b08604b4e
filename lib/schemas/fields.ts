import { z } from 'zod'

/** The client's own key of a submission: the same key twice is one record. */
export const clientKey = z.uuid('KEY_MISSING')

export const idField = z.uuid('CHOOSE_ONE')

/** A select with an empty first choice. */
export const optionalId = z
  .union([z.literal(''), z.uuid('CHOOSE_ONE')])
  .optional()
  .transform((value) => value || null)

export const requiredText = (max = 300) => z.string().trim().min(1, 'SAY_IT').max(max, 'TOO_LONG')

export const optionalText = (max = 300) =>
  z
    .string()
    .trim()
    .max(max, 'TOO_LONG')
    .optional()
    .transform((value) => value || null)

/** A number typed in a form. `z.coerce.number()` alone reads an empty field as 0. */
export const numberField = z
  .string()
  .trim()
  .regex(/^-?\d+(\.\d+)?$/, 'ENTER_A_NUMBER')
  .pipe(z.coerce.number())

/** Empty stays empty: a reading nobody took is not a reading of 0. */
export const optionalNumberField = z
  .union([z.literal(''), numberField])
  .optional()
  .transform((value) => (value === '' || value === undefined ? null : value))

/** A stale form must not overwrite. */
export const versionField = z.coerce.number().int().min(0)

/** Four to eight digits; the same words whether it is short or wrong. */
export const pinField = z.string().regex(/^\d{4,8}$/, 'ENTER_PIN')

export const dayField = z.iso.date('ENTER_A_DAY')

export const clockField = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'ENTER_A_TIME')

/** The hash of what stands on the screen that is signed. */
export const contentHashField = z.string('RELOAD_IT').regex(/^[0-9a-f]{64}$/, 'RELOAD_IT')

/** A ticked box: absent when it is not. */
export const tickedField = z.literal('yes', 'CONFIRM_IT')

/** What the device's own clock said, kept beside the server's; a device that says nothing is no fault. */
export const deviceAtField = z
  .union([z.literal(''), z.iso.datetime()])
  .optional()
  .transform((value) => (value ? new Date(value) : null))

/** The same with some of its fields left out at will: what a form always says, a caller need not. */
export type Loosely<T, K extends keyof T> = Omit<T, K> & Partial<Pick<T, K>>
