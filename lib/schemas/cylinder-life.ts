import { z } from 'zod'
import { readingBoxes, readingOf, serial } from './cylinder'
import { clientKey, idField, type Loosely, optionalId, optionalText, requiredText } from './fields'
import {
  day,
  emptyIsAbsent,
  kilograms,
  massUnit,
  optionalDay,
  optionalMonth,
  ticked,
  typedNumber,
  wholeNumber,
} from './measure'

export const VESSELS = ['cylinder', 'pack', 'dewar', 'portable_set'] as const
export type Vessel = (typeof VESSELS)[number]

export const TEST_METHODS = ['volumetric', 'proof', 'visual'] as const

/** What may be wrong with the wall; nothing of it is put right by anything but a test. */
export const CONDITIONS = [
  'heat_damage',
  'dent',
  'corrosion',
  'crack',
  'leak',
  'accident',
  'ground_down',
] as const

/** A select with an empty first choice. */
const oneOfOrNone = <const T extends readonly [string, ...string[]]>(values: T) =>
  z
    .union([z.literal(''), z.enum(values)])
    .optional()
    .transform((value) => (value ? value : null))

export const conditionField = oneOfOrNone(CONDITIONS)
export const methodField = oneOfOrNone(TEST_METHODS)

const ofCylinder = { key: clientKey, cylinderId: idField }

export const holdBackSchema = z.object({
  ...ofCylinder,
  reason: requiredText(300),
  condition: conditionField,
})
export type HoldBackInput = z.output<typeof holdBackSchema>

export const moveCylinderSchema = z.object({
  ...ofCylinder,
  toSiteId: optionalId,
  areaId: optionalId,
  /** A limit of the area warned, and they go there all the same. */
  storageConfirmed: ticked,
})
export type MoveCylinderInput = Loosely<z.output<typeof moveCylinderSchema>, 'storageConfirmed'>

export const recordTestSchema = z.object({
  ...ofCylinder,
  testedOn: day,
  method: methodField,
  isStarred: ticked,
  /** What the stamp says, where it is earlier than the specification allows or the specification names none. */
  dueMonth: optionalMonth,
})
export type RecordTestInput = z.output<typeof recordTestSchema>

export const recordFillSchema = z.object({
  ...ofCylinder,
  filledOn: day,
  batch: optionalText(60),
})
export type RecordFillInput = z.output<typeof recordFillSchema>

export const findCylinderSchema = z.object({
  ...ofCylinder,
  siteId: idField,
  condition: conditionField,
  reason: optionalText(300),
})
export type FindCylinderInput = z.output<typeof findCylinderSchema>

export const correctReadingSchema = z
  .object({
    ...ofCylinder,
    correctsId: idField,
    markedEmpty: ticked,
    reason: requiredText(300),
    ...readingBoxes,
  })
  .transform((typed, context) => {
    const reading = readingOf(typed, context)
    if (!reading && !typed.markedEmpty && context.issues.length === 0)
      context.addIssue({ code: 'custom', path: ['gauge'], message: 'READING_OR_EMPTY' })
    const { key, cylinderId, correctsId, markedEmpty, reason } = typed
    return { key, cylinderId, correctsId, markedEmpty, reason, reading }
  })
export type CorrectReadingInput = z.output<typeof correctReadingSchema>

const MOST_IN_A_PACK = 64

export const takeInSchema = z.object({
  key: clientKey,
  siteId: idField,
  areaId: optionalId,
  how: z.enum(['bought', 'rented_in']),
  serial,
  /** The person looked at the serials that this one is nearly like, and it is another. */
  isAnother: ticked,
  sizeId: requiredText(40),
  spec: optionalText(40),
  vessel: z.enum(VESSELS),
  holds: emptyIsAbsent(wholeNumber.refine((n) => n >= 1 && n <= MOST_IN_A_PACK, 'OUT_OF_RANGE')),
  supplierId: optionalId,
  tare: emptyIsAbsent(typedNumber.refine((value) => value > 0, 'NOT_POSITIVE')),
  tareUnit: massUnit.optional(),
  madeMonth: optionalMonth,
  serviceLifeEnds: optionalDay,
  testedOn: optionalDay,
  method: methodField,
  isStarred: ticked,
  dueMonth: optionalMonth,
  filledOn: optionalDay,
  isEmpty: ticked,
  storageConfirmed: ticked,
})
export type TakeInInput = Loosely<z.output<typeof takeInSchema>, 'storageConfirmed'>

export const tareKgOf = ({ tare, tareUnit }: Pick<TakeInInput, 'tare' | 'tareUnit'>) =>
  tare === undefined ? null : kilograms(tare, tareUnit ?? 'lb')
