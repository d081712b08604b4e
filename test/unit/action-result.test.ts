import { describe, expect, test } from 'vitest'
import { z } from 'zod'
import { invalidInput, isSecretField, toFailure, typedValues } from '@/lib/action-result'
import { AppError, httpStatus } from '@/lib/errors'

function form(values: Record<string, string>): FormData {
  const data = new FormData()
  for (const [name, value] of Object.entries(values)) data.set(name, value)
  return data
}

const schema = z.object({
  title: z.string().min(1).max(5),
  pieces: z.string().pipe(z.coerce.number<string>().int().min(1).max(40)),
  gas: z.enum(['oxygen', 'acetylene']),
  gauge: z.string().regex(/^\d+$/, 'NUMBER_WANTED'),
  pin: z.string().regex(/^\d{6}$/, 'PIN_SHAPE'),
})

const parse = (values: Record<string, string>) => {
  const parsed = schema.safeParse(values)
  if (parsed.success) throw new Error('the form should not parse')
  return invalidInput(parsed.error, form(values))
}

describe('what a form gets back', () => {
  test('each field has a code with what was typed and the limit it broke', () => {
    const { fieldErrors, code, params } = parse({
      title: 'Deck three',
      pieces: '41',
      gas: 'air',
      gauge: 'full',
      pin: '12',
    })
    expect(code).toBe('INVALID_INPUT')
    expect(params).toEqual({ count: 5 })
    expect(fieldErrors.title).toEqual([
      { code: 'TOO_LONG', params: { value: 'Deck three', limit: 5 } },
    ])
    expect(fieldErrors.pieces).toEqual([{ code: 'TOO_BIG', params: { value: '41', limit: 40 } }])
    expect(fieldErrors.gas).toEqual([
      { code: 'NOT_ONE_OF', params: { value: 'air', limit: 'oxygen, acetylene' } },
    ])
    expect(fieldErrors.gauge).toEqual([{ code: 'NUMBER_WANTED', params: { value: 'full' } }])
  })

  test('an empty field is wanted, not out of range', () => {
    const { fieldErrors } = parse({ title: '', pieces: '', gas: '', gauge: '1', pin: '123456' })
    expect(fieldErrors.title).toEqual([{ code: 'REQUIRED' }])
    expect(fieldErrors.gas).toEqual([{ code: 'REQUIRED' }])
  })

  test('a wrong PIN is named but never repeated', () => {
    const failure = parse({ title: 'Deck', pieces: '1', gas: 'oxygen', gauge: '1', pin: '9876' })
    expect(failure.fieldErrors.pin).toEqual([{ code: 'PIN_SHAPE', params: {} }])
    expect(JSON.stringify(failure)).not.toContain('9876')
  })

  test('a refusal becomes data with its reasons and what was typed', () => {
    const refusal = new AppError('NOT_NOW', { at: 5 }, [
      { code: 'WATCH_LEFT', params: { minutes: 29 } },
    ])
    expect(toFailure(refusal, form({ note: 'done', pin: '123456' }))).toEqual({
      ok: false,
      code: 'NOT_NOW',
      params: { at: 5 },
      reasons: [{ code: 'WATCH_LEFT', params: { minutes: 29 } }],
      fieldErrors: {},
      values: { note: 'done' },
    })
  })

  test('anything that is not a refusal is thrown on', () => {
    const bug = new TypeError('x is undefined')
    expect(() => toFailure(bug, form({}))).toThrow(bug)
  })
})

describe('secret fields', () => {
  test.each(['password', 'pin', 'operatorPin', 'final_watch_pin', 'new-password', 'PIN'])(
    '%s is one',
    (name) => {
      expect(isSecretField(name)).toBe(true)
    },
  )

  test.each(['shipping', 'spinDirection', 'opinion', 'note', 'pinned'])('%s is none', (name) => {
    expect(isSecretField(name)).toBe(false)
  })

  test('files and the framework’s own fields are not typed text', () => {
    const data = form({ $ACTION_ID_1: 'x', note: 'kept' })
    data.set('photo', new File(['bytes'], 'a.jpg'))
    expect(typedValues(data)).toEqual({ note: 'kept' })
  })
})

describe('HTTP status of a refusal', () => {
  test.each([
    ['SIGNED_OUT', 401],
    ['FORBIDDEN', 403],
    ['NOT_FOUND', 404],
    ['TOO_MANY_TRIES', 429],
    ['BUSY', 503],
    ['CYLINDER_EMPTY', 409],
  ])('%s answers %d', (code, status) => {
    expect(httpStatus(new AppError(code))).toBe(status)
  })
})
