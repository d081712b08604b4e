import { z } from 'zod'
import { COATING_CODES } from '../calc/materials'
import { measuresSchema } from './cut-measures'
import { clientKey, optionalText, requiredText } from './fields'
import { emptyIsAbsent, wholeNumber } from './measure'

export const POSITIONS = ['flat', 'horizontal', 'vertical', 'overhead'] as const
export const CUT_FUELS = ['acetylene', 'propane', 'natural_gas', 'propylene', 'mps'] as const
export const CUT_PROCESSES = ['hand', 'machine'] as const

const common = z.object({
  title: optionalText(80),
  material: requiredText(40),
  coating: z.enum(COATING_CODES, 'CHOOSE_ONE').default('none'),
  position: z.enum(POSITIONS).default('flat'),
  count: wholeNumber.refine((count) => count >= 1 && count <= 10_000, 'OUT_OF_RANGE'),
  note: optionalText(300),
})

/** One cut as typed in the person's units, turned into what the database keeps. */
export const describedCutSchema = z.intersection(common, measuresSchema)
export type DescribedCut = z.output<typeof describedCutSchema>

/** The same from a form: which list it is for, and which cut it changes. */
export const cutSchema = z.intersection(
  z.object({
    key: clientKey,
    cutListId: z.uuid(),
    cutId: emptyIsAbsent(z.uuid()).transform((id) => id ?? null),
    version: emptyIsAbsent(wholeNumber).transform((version) => version ?? null),
  }),
  describedCutSchema,
)
export type CutFormInput = z.output<typeof cutSchema>

export const removeCutSchema = z.object({ key: clientKey, cutId: z.uuid(), version: wholeNumber })
export type RemoveCutInput = z.output<typeof removeCutSchema>
