import { z } from 'zod'
import {
  convert,
  gaugeKpaFromPsig,
  kelvinFromCelsius,
  kelvinFromFahrenheit,
  type Unit,
} from '@/lib/calc/units'

/**
 * Numbers as people type them, each with the unit that its box shows. `z.coerce.number()` would read
 * an empty box as 0, which is dangerous for a reading: here empty is empty.
 */
const TYPED = /^-?(\d+|\d{1,3}(,\d{3})+)?(\.\d+)?$/

/** What a box may hold. `1 1/2` and `3/8` are how plate is named; a comma only parts thousands. */
function parseTyped(text: string): number | null {
  const trimmed = text.trim()
  if (/\d/.test(trimmed) && TYPED.test(trimmed)) return Number(trimmed.replaceAll(',', ''))
  const parts = /^(?:(\d+)[\s-]+)?(\d+)\/(\d+)$/.exec(trimmed)
  if (!parts || Number(parts[3]) === 0) return null
  return Number(parts[1] ?? 0) + Number(parts[2]) / Number(parts[3])
}

/** Refuses what is no number; messages are codes, the words stand in `messages/`. */
export const typedNumber = z
  .string({ error: 'ENTER_A_NUMBER' })
  .trim()
  .transform((text, context) => {
    const value = parseTyped(text)
    if (value !== null && Number.isFinite(value)) return value
    context.addIssue({ code: 'custom', message: 'ENTER_A_NUMBER' })
    return z.NEVER
  })

export const wholeNumber = typedNumber.refine(Number.isInteger, 'ENTER_A_WHOLE_NUMBER')

/** A calendar day, `2026-04-13`, as a Date at midnight UTC, which is how the database keeps days. */
export const day = z.iso
  .date({ error: 'ENTER_A_DAY' })
  .transform((text) => new Date(`${text}T00:00:00.000Z`))

/** A month, `2027-05`, as its first day. */
export const month = z
  .string({ error: 'ENTER_A_MONTH' })
  .regex(/^\d{4}-(0[1-9]|1[0-2])$/, 'ENTER_A_MONTH')
  .transform((text) => new Date(`${text}-01T00:00:00.000Z`))

/** An empty box is no answer; the schema behind it never sees it. */
export const emptyIsAbsent = <T extends z.ZodType>(schema: T) =>
  z.preprocess((value) => (value === '' || value === null ? undefined : value), schema.optional())

export const optionalDay = emptyIsAbsent(day).transform((value) => value ?? null)
export const optionalMonth = emptyIsAbsent(month).transform((value) => value ?? null)

/** A box ticked in a form; absent is false. */
export const ticked = z
  .literal(['yes', 'on'])
  .optional()
  .transform((value) => value !== undefined)

const MASS_UNITS = ['lb', 'kg'] as const satisfies readonly Unit[]

export const massUnit = z.enum(MASS_UNITS)
export const pressureUnit = z.enum(['psi', 'kPa', 'bar', 'MPa'] as const satisfies readonly Unit[])
export const temperatureUnit = z.enum(['degF', 'degC'])

export const kilograms = (value: number, unit: z.infer<typeof massUnit>) =>
  convert({ value, from: unit, to: 'kg' })
export function gaugeKpa(value: number, unit: z.infer<typeof pressureUnit>): number {
  return unit === 'psi' ? gaugeKpaFromPsig(value) : convert({ value, from: unit, to: 'kPa' })
}

export function kelvin(value: number, unit: z.infer<typeof temperatureUnit>): number {
  return unit === 'degF' ? kelvinFromFahrenheit(value) : kelvinFromCelsius(value)
}
