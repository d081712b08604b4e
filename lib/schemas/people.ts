import { z } from 'zod'
import { ROLES } from '../access/access'
import { clientKey, dayField, idField, pinField, requiredText } from './fields'

export const QUALIFICATION_KINDS = ['torch_operator', 'fire_watch', 'pai'] as const

export const grantRoleSchema = z.object({
  key: clientKey,
  personId: idField,
  siteId: idField,
  role: z.enum(ROLES),
})
export type GrantRoleInput = z.output<typeof grantRoleSchema>

export const revokeGrantSchema = z.object({ key: clientKey, grantId: idField })
export type RevokeGrantInput = z.output<typeof revokeGrantSchema>

export const setDisabledSchema = z.object({
  key: clientKey,
  personId: idField,
  disabled: z.enum(['yes', 'no']),
})
export type SetDisabledInput = z.output<typeof setDisabledSchema>

export const qualificationSchema = z
  .object({
    key: clientKey,
    personId: idField,
    kind: z.enum(QUALIFICATION_KINDS),
    validFrom: dayField,
    validUntil: dayField,
    evidence: requiredText(200),
  })
  .refine((one) => one.validUntil >= one.validFrom, {
    path: ['validUntil'],
    message: 'ENDS_BEFORE_START',
  })
export type QualificationInput = z.output<typeof qualificationSchema>

export const prefsSchema = z.object({
  key: clientKey,
  units: z.enum(['us', 'si']),
  clock: z.enum(['24', '12']),
  theme: z.enum(['device', 'light', 'dark']),
})
export type PrefsInput = z.output<typeof prefsSchema>

const EASY_PINS = new Set(['123456', '654321', '123123', '121212', '112233', '012345'])
const isEasy = (pin: string) => EASY_PINS.has(pin) || new Set(pin).size < 3

export const changePinSchema = z
  .object({
    key: clientKey,
    pin: z.union([z.literal(''), pinField]).default(''),
    password: z.string().max(200).default(''),
    newPin: z.string().regex(/^\d{6}$/, 'SIX_DIGITS'),
    newPinAgain: z.string(),
  })
  .refine((typed) => typed.pin !== '' || typed.password !== '', {
    path: ['pin'],
    message: 'PIN_OR_PASSWORD',
  })
  .refine((typed) => !isEasy(typed.newPin), { path: ['newPin'], message: 'PIN_TOO_EASY' })
  .refine((typed) => typed.newPin === typed.newPinAgain, {
    path: ['newPinAgain'],
    message: 'PINS_DIFFER',
  })
export type ChangePinInput = z.output<typeof changePinSchema>
