import { z } from 'zod'
import { ROLES } from '../access/access'
import {
  clientKey,
  dayField,
  idField,
  optionalText,
  pinField,
  requiredText,
  versionField,
} from './fields'

export const QUALIFICATION_KINDS = [
  'torch_operator',
  'fire_watch',
  'pai',
  'hazmat_driver',
  'entry_supervisor',
] as const

const emailField = z.string().trim().toLowerCase().max(200, 'TOO_LONG').pipe(z.email('ENTER_EMAIL'))

export const addPersonSchema = z.object({
  key: clientKey,
  name: requiredText(80),
  email: emailField,
  phone: optionalText(40),
  firm: optionalText(80),
  siteId: idField,
  role: z.enum(ROLES),
})
export type AddPersonInput = z.output<typeof addPersonSchema>

export const changePersonSchema = z.object({
  key: clientKey,
  personId: idField,
  version: versionField,
  name: requiredText(80),
  email: emailField,
  phone: optionalText(40),
  firm: optionalText(80),
})
export type ChangePersonInput = z.output<typeof changePersonSchema>

export const oncePasswordSchema = z.object({ key: clientKey, personId: idField })
export type OncePasswordInput = z.output<typeof oncePasswordSchema>

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
    issuer: requiredText(120),
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

/** Each digit one more, or one less, than the one before, past 9 and 0 too: 345678, 987654, 890123. */
function isStair(pin: string): boolean {
  const steps = [...pin].slice(1).map((digit, at) => (Number(digit) - Number(pin[at]) + 10) % 10)
  return steps.every((step) => step === 1) || steps.every((step) => step === 9)
}

const isTwice = (pin: string) => pin.slice(0, 3) === pin.slice(3)
const isPairs = (pin: string) => /^(\d)\1(\d)\2(\d)\3$/.test(pin)

/** What people try first: few different digits, stairs, a half said twice, pairs. */
const isEasy = (pin: string) =>
  new Set(pin).size < 3 || isStair(pin) || isTwice(pin) || isPairs(pin)

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

/** Common practice, no source: a password of ten signs, that is not the person's own address. */
const PASSWORD_LEAST = 10

export const beginSchema = z
  .object({
    key: clientKey,
    newPassword: z.string().min(PASSWORD_LEAST, 'PASSWORD_SHORT').max(200, 'TOO_LONG'),
    newPasswordAgain: z.string(),
    newPin: z.string().regex(/^\d{6}$/, 'SIX_DIGITS'),
    newPinAgain: z.string(),
  })
  .refine((typed) => new Set(typed.newPassword).size > 4, {
    path: ['newPassword'],
    message: 'PASSWORD_EASY',
  })
  .refine((typed) => typed.newPassword === typed.newPasswordAgain, {
    path: ['newPasswordAgain'],
    message: 'PASSWORDS_DIFFER',
  })
  .refine((typed) => !isEasy(typed.newPin), { path: ['newPin'], message: 'PIN_TOO_EASY' })
  .refine((typed) => typed.newPin === typed.newPinAgain, {
    path: ['newPinAgain'],
    message: 'PINS_DIFFER',
  })
export type BeginInput = z.output<typeof beginSchema>
