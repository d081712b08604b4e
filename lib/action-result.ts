import type { z } from 'zod'
import { AppError, type Params, type Reason } from '@/lib/errors'

export interface ActionFailure {
  ok: false
  code: string
  params: Params
  reasons: readonly Reason[]
  fieldErrors: Readonly<Record<string, readonly Reason[]>>
  /** What was typed, to fill the form again; never a password or PIN. */
  values: Readonly<Record<string, string>>
}

export type ActionResult<T = null> = { ok: true; data: T } | ActionFailure

const SECRET_WORDS = new Set(['password', 'passwords', 'pin', 'pins', 'secret', 'passcode'])
const wordsOf = (name: string) =>
  name
    .replace(/([a-z0-9])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .split(/[^a-z]+/)

/** Whether a field of this name holds something that may not be sent back or logged. */
export function isSecretField(name: string): boolean {
  return wordsOf(name).some((word) => SECRET_WORDS.has(word))
}

/** The typed text of a form, without secrets, files and Next's own fields. */
export function typedValues(formData: FormData): Record<string, string> {
  const values: Record<string, string> = {}
  for (const [name, value] of formData) {
    if (typeof value === 'string' && !name.startsWith('$ACTION') && !isSecretField(name))
      values[name] = value
  }
  return values
}

type Issue = z.core.$ZodIssue

// A schema may name its own code as the message ("READING_ABOVE_FULL"); zod's own sentences are
// for developers and never shown.
const OWN_CODE = /^[A-Z][A-Z0-9_]+$/

const asParam = (value: unknown): string | number =>
  typeof value === 'number' || typeof value === 'string' ? value : String(value)

function codeAndLimit(issue: Issue, typed: string): Reason {
  const value: Params = typed === '' ? {} : { value: typed }
  if (OWN_CODE.test(issue.message)) return { code: issue.message, params: value }
  if (typed === '') return { code: 'REQUIRED' }
  switch (issue.code) {
    case 'too_small':
      return {
        code: boundCode(issue.origin, 'TOO_SHORT', 'TOO_SMALL'),
        params: { ...value, limit: asParam(issue.minimum) },
      }
    case 'too_big':
      return {
        code: boundCode(issue.origin, 'TOO_LONG', 'TOO_BIG'),
        params: { ...value, limit: asParam(issue.maximum) },
      }
    case 'not_multiple_of':
      return { code: 'NOT_MULTIPLE', params: { ...value, limit: issue.divisor } }
    case 'invalid_value':
      return {
        code: 'NOT_ONE_OF',
        params: { ...value, limit: issue.values.map(String).join(', ') },
      }
    default:
      return { code: 'NOT_UNDERSTOOD', params: value }
  }
}

const boundCode = (origin: string, ofText: string, ofNumber: string) =>
  origin === 'string' ? ofText : ofNumber

/** Field errors as codes, each with what was typed and the limit it broke. */
export function fieldErrorsOf(error: z.ZodError, values: Readonly<Record<string, string>>) {
  const fieldErrors: Record<string, Reason[]> = {}
  for (const issue of error.issues) {
    const field = issue.path.map(String).join('.') || 'form'
    const reasons = fieldErrors[field] ?? []
    reasons.push(codeAndLimit(issue, isSecretField(field) ? '' : (values[field] ?? '')))
    fieldErrors[field] = reasons
  }
  return fieldErrors
}

/** What a form gets back when it could not be read. */
export function invalidInput(error: z.ZodError, formData: FormData): ActionFailure {
  const values = typedValues(formData)
  return {
    ok: false,
    code: 'INVALID_INPUT',
    params: { count: error.issues.length },
    reasons: [],
    fieldErrors: fieldErrorsOf(error, values),
    values,
  }
}

/** Turns an expected refusal into data; rethrows every other error, Next's redirects included. */
export function toFailure(error: unknown, formData: FormData): ActionFailure {
  if (!(error instanceof AppError)) throw error
  const { code, params, reasons } = error
  return { ok: false, code, params, reasons, fieldErrors: {}, values: typedValues(formData) }
}
