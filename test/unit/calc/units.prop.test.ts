import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  absKpaFromGaugeKpa,
  celsiusFromKelvin,
  convert,
  fahrenheitFromKelvin,
  gasFt3FromKg,
  gasKgFromFt3,
  gaugeKpaFromPsig,
  kelvinFromCelsius,
  kelvinFromFahrenheit,
  psigFromGaugeKpa,
  UNITS,
  type Unit,
} from '@/lib/calc/units'

const CODES = Object.keys(UNITS) as Unit[]
const unit = fc.constantFrom(...CODES)
const pair = unit.chain((from) =>
  fc.record({
    from: fc.constant(from),
    to: fc.constantFrom(...CODES.filter((code) => UNITS[code].dimension === UNITS[from].dimension)),
  }),
)
const size = fc.double({ min: 1e-9, max: 1e9, noNaN: true })
function isSame(found: number, value: number): void {
  expect(Math.abs(found / value - 1)).toBeLessThan(1e-12)
}

describe('there and back again, to 1e-12', () => {
  test('every unit to every other of its kind', () => {
    fc.assert(
      fc.property(pair, size, ({ from, to }, value) => {
        const there = convert({ value, from, to })
        expect(there).toBeGreaterThan(0)
        isSame(convert({ value: there, from: to, to: from }), value)
      }),
      { numRuns: 300 },
    )
  })

  test.each([
    ['kelvin and °F', kelvinFromFahrenheit, fahrenheitFromKelvin],
    ['kelvin and °C', kelvinFromCelsius, celsiusFromKelvin],
  ] as const)('%s', (_scales, there, back) => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 5000, noNaN: true }), (kelvin) =>
        isSame(there(back(kelvin)), kelvin),
      ),
      { numRuns: 200 },
    )
  })

  test('psig and kPa, and kilograms and cubic feet of a gas', () => {
    fc.assert(
      fc.property(size, (value) => {
        isSame(psigFromGaugeKpa(gaugeKpaFromPsig(value)), value)
        isSame(gasKgFromFt3('acetylene', gasFt3FromKg('acetylene', value)), value)
        expect(absKpaFromGaugeKpa(value)).toBeGreaterThan(value)
      }),
      { numRuns: 200 },
    )
  })
})
