import { z } from 'zod'
import {
  clientKey,
  clockField,
  dayField,
  deviceAtField,
  idField,
  numberField,
  optionalId,
  optionalNumberField,
  optionalText,
  pinField,
  requiredText,
  tickedField,
  versionField,
} from './fields'

const onPermit = { key: clientKey, permitId: idField, version: versionField, deviceAt: deviceAtField }

export const PERMIT_FILTERS = ['now', 'preparing', 'watch', 'ended', 'all'] as const
export type PermitFilter = (typeof PERMIT_FILTERS)[number]
export const permitFilterSchema = z.enum(PERMIT_FILTERS).catch('now')

/** The permit as it stands when nothing but the permit is meant: cleared, a new look. */
export const permitStepSchema = z.object(onPermit)
export type PermitStepInput = z.infer<typeof permitStepSchema>

export const gasTestSchema = z.object({
  ...onPermit,
  oxygenPct: numberField.pipe(z.number().min(0, 'OUT_OF_RANGE').max(100, 'OUT_OF_RANGE')),
  lelPct: numberField.pipe(z.number().min(0, 'OUT_OF_RANGE').max(100, 'OUT_OF_RANGE')),
  coPpm: optionalNumberField.pipe(z.number().min(0, 'OUT_OF_RANGE').max(2000, 'OUT_OF_RANGE').nullable()),
  h2sPpm: optionalNumberField.pipe(z.number().min(0, 'OUT_OF_RANGE').max(500, 'OUT_OF_RANGE').nullable()),
  instrument: requiredText(80),
  bumpTestedOn: dayField,
  calibratedUntil: dayField,
})
export type GasTestInput = z.infer<typeof gasTestSchema>

/** The phone goes round: each signs as the named person, with their own PIN. */
export const signPermitSchema = z.object({
  ...onPermit,
  act: z.enum(['agree', 'acknowledge'], 'CHOOSE_ONE'),
  personId: idField,
  pin: pinField,
})
export type SignPermitInput = z.infer<typeof signPermitSchema>

export const issuePermitSchema = z.object({
  ...onPermit,
  personId: idField,
  pin: pinField,
  arrivedAt: clockField,
  validUntilDay: dayField,
  validUntil: clockField,
  watchJudgement: z.enum(['yes', 'no', ''], 'CHOOSE_ONE').default(''),
})
export type IssuePermitInput = z.infer<typeof issuePermitSchema>

export const holdPermitSchema = z.object({
  ...onPermit,
  torchOut: tickedField,
  valvesShut: tickedField,
  gasOffOutside: tickedField.optional(),
  watcherId: optionalId,
  reason: requiredText(),
})
export type HoldPermitInput = z.infer<typeof holdPermitSchema>

export const resumePermitSchema = z.object({
  ...onPermit,
  operatorId: idField,
  personId: optionalId,
  pin: z.union([z.literal(''), pinField]).optional(),
})
export type ResumePermitInput = z.infer<typeof resumePermitSchema>

export const endWorkSchema = z.object({
  ...onPermit,
  torchOutAt: z.union([z.literal(''), clockField]).optional(),
  valvesShut: tickedField,
  watcherId: optionalId,
})
export type EndWorkInput = z.infer<typeof endWorkSchema>

export const logWorkSchema = z.object({
  key: clientKey,
  permitId: idField,
  deviceAt: deviceAtField,
  cutId: optionalId,
  pieces: numberField.pipe(z.number().int('WHOLE_NUMBER').min(0, 'OUT_OF_RANGE').max(10_000, 'OUT_OF_RANGE')),
  day: dayField,
  from: clockField,
  to: clockField,
  operatorId: idField,
  note: optionalText(),
})
export type LogWorkInput = z.infer<typeof logWorkSchema>

export const handOverSchema = z.object({
  ...onPermit,
  role: z.enum(['operator', 'fire_watch'], 'CHOOSE_ONE'),
  personId: idField,
  pin: pinField,
})
export type HandOverInput = z.infer<typeof handOverSchema>

export const withdrawPermitSchema = z.object({ ...onPermit, reason: requiredText() })
export type WithdrawPermitInput = z.infer<typeof withdrawPermitSchema>
