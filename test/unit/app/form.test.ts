import { describe, expect, test } from 'vitest'
import { valuesOf } from '@/app/_components/form/kept-values'
import { readableParams } from '@/app/_components/form/reason-words'
import { convertTyped, parseTyped } from '@/app/_components/form/typed-number'

const form = (entries: readonly (readonly [string, string])[]) => {
  const data = new FormData()
  for (const [name, value] of entries) data.append(name, value)
  return data
}

describe('what a form keeps', () => {
  test('is the typed text by field, every one of several', () => {
    expect(
      valuesOf(
        form([
          ['where', 'deck 3'],
          ['who', 'a'],
          ['who', 'b'],
        ]),
      ),
    ).toEqual({ where: ['deck 3'], who: ['a', 'b'] })
  })

  test('is never a PIN, a password or what the framework adds', () => {
    expect(
      valuesOf(
        form([
          ['pin', '4711'],
          ['operatorPin', '4711'],
          ['password', 'x'],
          ['$ACTION_ID', 'x'],
          ['note', 'ok'],
        ]),
      ),
    ).toEqual({ note: ['ok'] })
  })
})

describe('a typed number', () => {
  test.each([
    ['790', 790],
    [' 2,640 ', 2640],
    ['.5', 0.5],
    ['-3.2', -3.2],
    ['', null],
    ['7 90', null],
    ['1,5', null],
    ['about 3', null],
  ])('"%s" is %s', (text, value) => {
    expect(parseTyped(text)).toBe(value)
  })

  test('is converted when its unit is tapped', () => {
    expect(convertTyped({ value: 22, from: 'ft', to: 'm' })).toBe('6.706')
    expect(convertTyped({ value: 61, from: 'degF', to: 'degC' })).toBe('16.11')
    expect(convertTyped({ value: 20.9, from: 'percent', to: 'percent' })).toBe('20.9')
  })
})

test('instants among the values of a reason become clock times of the place', () => {
  const prefs = { units: 'us', clock: '24', timeZone: 'America/New_York' } as const
  const at = Date.UTC(2026, 3, 13, 17, 57)
  expect(readableParams({ endsAt: at, minutes: 29, name: 'Mei' }, prefs)).toEqual({
    endsAt: '13:57',
    minutes: 29,
    name: 'Mei',
  })
})
