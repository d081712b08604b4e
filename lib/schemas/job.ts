import { z } from 'zod'
import { CUT_FUELS, CUT_PROCESSES } from './cut'
import { clientKey, idField, optionalId, requiredText } from './fields'
import { listSettingsForm } from './list-settings'
import { day, typedNumber, wholeNumber } from './measure'

const dates = { plannedStart: day, plannedEnd: day }
const chance = typedNumber
  .refine((percent) => percent >= 0 && percent <= 100, 'OUT_OF_RANGE')
  .transform((percent) => percent / 100)

export const newJobSchema = z
  .object({
    key: clientKey,
    number: requiredText(12).regex(/^[0-9A-Za-z]+$/, 'LETTERS_AND_DIGITS'),
    title: requiredText(80),
    siteId: idField,
    crewId: optionalId,
    ...dates,
    chancePercent: chance,
    fuel: z.enum(CUT_FUELS),
    process: z.enum(CUT_PROCESSES),
  })
  .refine((job) => job.plannedEnd >= job.plannedStart, {
    path: ['plannedEnd'],
    message: 'ENDS_BEFORE_START',
  })
export type NewJobInput = z.output<typeof newJobSchema>

export const editJobSchema = z
  .object({
    key: clientKey,
    jobId: z.uuid(),
    version: wholeNumber,
    title: requiredText(80),
    crewId: optionalId,
    ...dates,
    chancePercent: chance,
  })
  .refine((job) => job.plannedEnd >= job.plannedStart, {
    path: ['plannedEnd'],
    message: 'ENDS_BEFORE_START',
  })
export type EditJobInput = z.output<typeof editJobSchema>

export const cutListSettingsSchema = z.intersection(
  z.object({
    key: clientKey,
    cutListId: z.uuid(),
    version: wholeNumber,
    fuel: z.enum(CUT_FUELS),
    process: z.enum(CUT_PROCESSES),
  }),
  listSettingsForm,
)
export type CutListSettingsInput = z.output<typeof cutListSettingsSchema>

export const keepEstimateSchema = z.object({ key: clientKey, cutListId: z.uuid() })
export type KeepEstimateInput = z.output<typeof keepEstimateSchema>
