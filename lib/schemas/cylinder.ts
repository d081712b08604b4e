import { z } from 'zod'
import { clientKey, idField, requiredText } from './fields'
import {
  emptyIsAbsent,
  gaugeKpa,
  kelvin,
  kilograms,
  massUnit,
  pressureUnit,
  temperatureUnit,
  typedNumber,
} from './measure'

/** A gauge, or a scale: whichever box is filled. The gas's temperature is that of the shell or the air. */
const readingBoxes = {
  gauge: emptyIsAbsent(typedNumber.refine((value) => value >= 0, 'NEGATIVE')),
  gaugeUnit: pressureUnit.optional(),
  temperature: emptyIsAbsent(typedNumber),
  temperatureUnit: temperatureUnit.optional(),
  weight: emptyIsAbsent(typedNumber.refine((value) => value > 0, 'NOT_POSITIVE')),
  weightUnit: massUnit.optional(),
}
const readingObject = z.object(readingBoxes)
type TypedReading = z.output<typeof readingObject>

/** What was observed, in kPa gauge, kelvin and kilograms gross. */
export type Reading =
  | Readonly<{ kind: 'gauge'; gaugePressureKpa: number; temperatureK: number }>
  | Readonly<{ kind: 'weight'; grossKg: number }>

const COLDEST_K = 220
const HOTTEST_K = 335

function readingOf(typed: TypedReading, context: z.RefinementCtx): Reading | null {
  if (typed.weight !== undefined)
    return { kind: 'weight', grossKg: kilograms(typed.weight, typed.weightUnit ?? 'kg') }
  if (typed.gauge === undefined) return null
  if (typed.temperature === undefined) {
    context.addIssue({ code: 'custom', path: ['temperature'], message: 'ENTER_A_NUMBER' })
    return null
  }
  const temperatureK = kelvin(typed.temperature, typed.temperatureUnit ?? 'degC')
  if (temperatureK < COLDEST_K || temperatureK > HOTTEST_K) {
    context.addIssue({ code: 'custom', path: ['temperature'], message: 'OUT_OF_RANGE' })
  }
  return {
    kind: 'gauge',
    gaugePressureKpa: gaugeKpa(typed.gauge, typed.gaugeUnit ?? 'kPa'),
    temperatureK,
  }
}

export { readingBoxes, readingOf }

export const readCylinderSchema = z
  .object({ key: clientKey, cylinderId: idField, ...readingBoxes })
  .transform((typed, context) => {
    const reading = readingOf(typed, context)
    if (!reading && context.issues.length === 0)
      context.addIssue({ code: 'custom', path: ['gauge'], message: 'ENTER_A_NUMBER' })
    return reading ? { key: typed.key, cylinderId: typed.cylinderId, reading } : z.NEVER
  })
export type ReadCylinderInput = z.output<typeof readCylinderSchema>

export const cylinderActSchema = z.object({ key: clientKey, cylinderId: idField })
export type CylinderActInput = z.output<typeof cylinderActSchema>

export const cylinderReasonSchema = z.object({
  key: clientKey,
  cylinderId: idField,
  reason: requiredText(300),
})
export type CylinderReasonInput = z.output<typeof cylinderReasonSchema>

export const CYLINDER_STATUSES = [
  'full',
  'partial',
  'in_use',
  'empty',
  'quarantined',
  'in_transit',
  'returned',
  'at_test',
  'lost',
  'scrapped',
] as const
export type CylinderStatus = (typeof CYLINDER_STATUSES)[number]

const oneOrNone = <T extends z.ZodType>(schema: T) => schema.nullable().catch(null as never)

/** What the address of the list may say; anything else in it counts for nothing. */
export const cylinderFilterSchema = z.object({
  gas: oneOrNone(z.string().regex(/^[a-z_]{2,20}$/)).default(null),
  status: oneOrNone(z.enum(CYLINDER_STATUSES)).default(null),
  /** Any part of a serial. */
  part: oneOrNone(
    z
      .string()
      .trim()
      .toUpperCase()
      .regex(/^[A-Z0-9 ./-]{1,40}$/),
  ).default(null),
  after: oneOrNone(z.string().max(60)).default(null),
})
export type CylinderFilter = z.output<typeof cylinderFilterSchema>

export const serial = z
  .string({ error: 'SAY_IT' })
  .trim()
  .toUpperCase()
  .min(1, 'SAY_IT')
  .max(40, 'TOO_LONG')
  .regex(/^[A-Z0-9][A-Z0-9 ./-]*$/, 'NOT_A_SERIAL')
