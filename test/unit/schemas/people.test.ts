import { describe, expect, test } from 'vitest'
import { changePinSchema } from '@/lib/schemas/people'

const codesFor = (over: Record<string, string>) => {
  const newPin = over.newPin ?? '518264'
  const typed = {
    key: '0190a3c4-5d6e-7f80-8123-456789abcdef',
    pin: '493027',
    newPin,
    newPinAgain: newPin,
    ...over,
  }
  return changePinSchema.safeParse(typed).error?.issues.map((issue) => issue.message) ?? []
}

describe('a new signing PIN', () => {
  test.each([
    '111111',
    '121212',
    '123456',
    '654321',
    '345678',
    '890123',
    '210987',
    '472472',
    '112233',
    '775588',
  ])('is not %s, which is tried first', (newPin) => {
    expect(codesFor({ newPin })).toEqual(['PIN_TOO_EASY'])
  })

  test.each(['518264', '135792', '907214', '246810'])('may be %s', (newPin) => {
    expect(codesFor({ newPin })).toEqual([])
  })

  test('has six digits and is said twice alike', () => {
    expect(codesFor({ newPin: '51826' })).toContain('SIX_DIGITS')
    expect(codesFor({ newPinAgain: '518265' })).toEqual(['PINS_DIFFER'])
  })

  test('is asked for with the old one or the password', () => {
    expect(codesFor({ pin: '', password: '' })).toEqual(['PIN_OR_PASSWORD'])
    expect(codesFor({ pin: '', password: 'nine-kerf-parallel' })).toEqual([])
  })
})
