import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { foldSerial, nearKeys, nearMiss } from '@/lib/rules/serial-near'

// Which characters are taken for each other: common practice, no source.
describe('a serial that is nearly another', () => {
  test.each([
    ['OX-2O417', 'OX-20417', 'misread'],
    ['0X 20417', 'OX-20417', 'misread'],
    ['OX-24017', 'OX-20417', 'swapped'],
    ['OX-2041', 'OX-20417', 'one_missing'],
    ['OX-204417', 'OX-20417', 'one_more'],
    ['OX-20411', 'OX-20417', 'lookalike'],
    ['AC-5S81', 'AC-558I', 'misread'],
  ] as const)('%s for %s is %s', (typed, known, how) => {
    expect(nearMiss(typed, known)).toBe(how)
  })

  test.each([
    ['OX-20417', 'OX-20417'],
    ['OX-20417', 'OX-20418'],
    ['OX-20417', 'AC-20417'],
    ['OX-20417', 'OX-20914'],
    ['A12', 'A13'],
  ])('%s is not nearly %s', (typed, known) => {
    expect(nearMiss(typed, known)).toBeNull()
  })

  const serials = fc.stringMatching(/^[A-Z0-9]{4,12}$/)
  test('is nearly the other whichever of the two was typed', () => {
    fc.assert(
      fc.property(serials, fc.nat(), (serial, at) => {
        const i = at % (serial.length - 1)
        const other = serial.slice(0, i) + serial[i + 1] + serial[i] + serial.slice(i + 2)
        expect(nearKeys(serial).has(foldSerial(other))).toBe(true)
        expect(nearKeys(other).has(foldSerial(serial))).toBe(true)
      }),
    )
  })

  test('is asked for with few keys, however long it is', () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[A-Z0-9]{1,40}$/), (serial) => {
        expect(nearKeys(serial).size).toBeLessThan(41 * 28 + 200 + 40 * 6)
      }),
    )
  })
})
