import { z } from 'zod'
import {
  clientKey,
  clockField,
  contentHashField,
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

const onPermit = {
  key: clientKey,
  permitId: idField,
  version: versionField,
  deviceAt: deviceAtField,
}

/** What is signed carries the hash of what the signer saw. */
const signed = { ...onPermit, contentHash: contentHashField, personId: idField, pin: pinField }

export const PERMIT_FILTERS = ['now', 'preparing', 'watch', 'ended', 'all'] as const
export type PermitFilter = (typeof PERMIT_FILTERS)[number]
export const permitFilterSchema = z.enum(PERMIT_FILTERS).catch('now')

/** Of all sites' bars: everything, what needs somebody now, or one part of a permit's life. */
export const FLEET_FILTERS = ['all', 'overdue', 'preparing', 'open', 'held', 'watch'] as const
export type FleetFilter = (typeof FLEET_FILTERS)[number]
export const fleetFilterSchema = z.enum(FLEET_FILTERS).catch('all')

/** When nothing but the permit as it stands is meant: it is cleared, or to be cleared again. */
export const permitStepSchema = z.object(onPermit)
export type PermitStepInput = z.infer<typeof permitStepSchema>

const dayOrNone = z
  .union([z.literal(''), dayField])
  .optional()
  .transform((value) => value || null)

export const gasTestSchema = z
  .object({
    ...onPermit,
    oxygenPct: numberField.pipe(z.number().min(0, 'OUT_OF_RANGE').max(100, 'OUT_OF_RANGE')),
    lelPct: numberField.pipe(z.number().min(0, 'OUT_OF_RANGE').max(100, 'OUT_OF_RANGE')),
    coPpm: optionalNumberField.pipe(
      z.number().min(0, 'OUT_OF_RANGE').max(2000, 'OUT_OF_RANGE').nullable(),
    ),
    h2sPpm: optionalNumberField.pipe(
      z.number().min(0, 'OUT_OF_RANGE').max(500, 'OUT_OF_RANGE').nullable(),
    ),
    oxygenCause: optionalText(200),
    /** One on record, whose days are in its records; else name and days are typed in. */
    instrumentId: optionalId,
    instrument: optionalText(80),
    bumpTestedOn: dayOrNone,
    calibratedUntil: dayOrNone,
  })
  .superRefine(({ instrumentId, instrument, bumpTestedOn, calibratedUntil }, context) => {
    if (instrumentId) return
    const missing = (field: string, message: string) =>
      context.addIssue({ code: 'custom', path: [field], message })
    if (!instrument) missing('instrument', 'SAY_IT')
    if (!bumpTestedOn) missing('bumpTestedOn', 'ENTER_A_DAY')
    if (!calibratedUntil) missing('calibratedUntil', 'ENTER_A_DAY')
  })
export type GasTestInput = z.infer<typeof gasTestSchema>

export const WIND_UNITS = ['mph', 'km/h', 'm/s'] as const
/** As read off an instrument; nobody works in more than these, whatever the unit. */
export const windField = optionalNumberField.pipe(
  z.number().min(0, 'OUT_OF_RANGE').max(300, 'OUT_OF_RANGE').nullable(),
)

/** One item of the walk. Which details an answer owes is the survey's to say. */
export const clearanceAnswerSchema = z.object({
  key: clientKey,
  permitId: idField,
  deviceAt: deviceAtField,
  item: z.string().regex(/^[a-z_]{2,40}$/, 'CHOOSE_ONE'),
  choice: z.string('CHOOSE_ONE').regex(/^[a-z_]{2,40}$/, 'CHOOSE_ONE'),
  what: optionalText(120),
  distance: optionalNumberField.pipe(
    z.number().min(0, 'OUT_OF_RANGE').max(1000, 'OUT_OF_RANGE').nullable(),
  ),
  distanceUnit: z.enum(['ft', 'm']).default('ft'),
  cover: z.enum(['listed_pad', 'rigid_cover']).optional(),
  sparksReach: optionalNumberField.pipe(
    z.number().min(0, 'OUT_OF_RANGE').max(1000, 'OUT_OF_RANGE').nullable(),
  ),
  sparksReachUnit: z.enum(['ft', 'm']).default('ft'),
  wind: windField,
  windUnit: z.enum(WIND_UNITS).default('mph'),
})
export type ClearanceAnswerInput = z.infer<typeof clearanceAnswerSchema>

/** The phone goes round: each signs as the named person, with their own PIN. */
export const signPermitSchema = z.object({
  ...signed,
  act: z.enum(['agree', 'acknowledge', 'enter'], 'CHOOSE_ONE'),
})
export type SignPermitInput = z.infer<typeof signPermitSchema>

export const issuePermitSchema = z.object({
  ...signed,
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
  reason: requiredText(),
})
export type HoldPermitInput = z.infer<typeof holdPermitSchema>

/** The new look: as it was cleared, said by somebody who stands there. What changed is walked again. */
export const newLookSchema = z.object({
  ...onPermit,
  sameAsCleared: tickedField,
  what: requiredText(),
})
export type NewLookInput = z.infer<typeof newLookSchema>

export const resumePermitSchema = z.object(signed)
export type ResumePermitInput = z.infer<typeof resumePermitSchema>

export const endWorkSchema = z.object({
  ...onPermit,
  torchOut: tickedField,
  valvesShut: tickedField,
})
export type EndWorkInput = z.infer<typeof endWorkSchema>

export const logWorkSchema = z.object({
  key: clientKey,
  permitId: idField,
  deviceAt: deviceAtField,
  cutId: optionalId,
  pieces: numberField.pipe(
    z.number().int('WHOLE_NUMBER').min(0, 'OUT_OF_RANGE').max(10_000, 'OUT_OF_RANGE'),
  ),
  day: dayField,
  from: clockField,
  to: clockField,
  operatorId: idField,
  note: optionalText(),
})
export type LogWorkInput = z.infer<typeof logWorkSchema>

export const handOverSchema = z.object({
  ...signed,
  role: z.enum(['operator', 'fire_watch'], 'CHOOSE_ONE'),
})
export type HandOverInput = z.infer<typeof handOverSchema>

/** Another operator or fire watch than was named, before the issue. */
export const namePeopleSchema = z.object({
  ...onPermit,
  operatorId: idField,
  fireWatchId: optionalId,
  why: requiredText(),
})
export type NamePeopleInput = z.infer<typeof namePeopleSchema>

export const withdrawPermitSchema = z.object({ ...onPermit, reason: requiredText() })
export type WithdrawPermitInput = z.infer<typeof withdrawPermitSchema>

/** "Not stopped, go back": the operator or a foreman, with their PIN. */
export const withdrawStopSchema = z.object({
  key: clientKey,
  permitId: idField,
  deviceAt: deviceAtField,
  personId: idField,
  pin: pinField,
})
export type WithdrawStopInput = z.infer<typeof withdrawStopSchema>
