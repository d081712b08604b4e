import { z } from 'zod'
import {
  clientKey,
  clockField,
  dayField,
  idField,
  optionalId,
  optionalText,
  requiredText,
} from './fields'

export const PERMIT_PROCESSES = [
  'oxyfuel_cutting',
  'oxyfuel_gouging',
  'heating',
  'brazing',
  'gas_welding',
  'arc_welding',
  'mig_welding',
  'arc_gouging',
  'torch_roofing',
  'hot_tapping',
] as const

export const COLD_ANSWERS = ['cold', 'elsewhere', 'neither'] as const
export const ISOLATION_STEPS = ['drained', 'blanked', 'locked_out'] as const

const optionalClock = z
  .union([z.literal(''), clockField])
  .optional()
  .transform((value) => value || null)

const LINKED = ['hostPermit', 'entryPermit'] as const

/** Whether it can be done cold or elsewhere comes first; only "neither", with its why, goes on. */
export const preparePermitSchema = z
  .object({
    key: clientKey,
    jobId: idField,
    areaId: idField,
    cutListId: optionalId,
    outfitId: idField,
    process: z.enum(PERMIT_PROCESSES, 'CHOOSE_ONE'),
    coldAnswer: z.enum(COLD_ANSWERS, 'CHOOSE_ONE'),
    coldWhy: requiredText(),
    what: requiredText(),
    whereWords: requiredText(),
    inside: requiredText(),
    behind: requiredText(),
    isolationSteps: z.array(z.enum(ISOLATION_STEPS)).default([]),
    isolationProvenBy: optionalText(120),
    hostPermit: optionalText(120),
    hostPermitUntil: optionalClock,
    entryPermit: optionalText(120),
    entryPermitUntil: optionalClock,
    plannedDay: dayField,
    plannedFrom: clockField,
    plannedUntil: clockField,
    operatorId: idField,
    fireWatchId: idField,
    /** The operator is alone: whose person watches and authorises. */
    loneClient: optionalText(80),
  })
  .superRefine((value, context) => {
    if (value.isolationSteps.length > 0 && value.isolationProvenBy === null) {
      context.addIssue({
        code: 'custom',
        path: ['isolationProvenBy'],
        message: 'SAY_WHO_PROVED_IT',
      })
    }
    for (const name of LINKED) {
      const until = `${name}Until` as const
      if (value[name] !== null && value[until] === null)
        context.addIssue({ code: 'custom', path: [until], message: 'ENTER_A_TIME' })
      if (value[name] === null && value[until] !== null)
        context.addIssue({ code: 'custom', path: [name], message: 'SAY_IT' })
    }
    if (value.operatorId === value.fireWatchId) {
      context.addIssue({ code: 'custom', path: ['fireWatchId'], message: 'NOT_THE_OPERATOR' })
    }
  })

export type PreparePermitInput = z.infer<typeof preparePermitSchema>
