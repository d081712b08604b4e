import { describe, expect, test } from 'vitest'
import { CalcError } from '@/lib/calc/errors'
import { GASES } from '@/lib/calc/gas-data'
import {
  absKpaFromPsig,
  celsiusFromKelvin,
  convert,
  fahrenheitFromKelvin,
  gasFt3FromKg,
  gasKgFromFt3,
  gasKgFromM3,
  gasM3FromKg,
  gaugeKpaFromPsig,
  kelvinFromCelsius,
  kelvinFromFahrenheit,
  kelvinRiseFromFahrenheitRise,
  psigFromGaugeKpa,
  STANDARD_TEMPERATURE_K,
  UNITS,
  type Unit,
} from '@/lib/calc/units'

describe('convert', () => {
  // NIST Special Publication 811, appendix B.8: factors (exact ones in bold there).
  test.each<[Unit, Unit, number]>([
    ['ft', 'm', 0.3048],
    ['in', 'mm', 25.4],
    ['lb', 'kg', 0.453_592_37],
    ['ft3', 'm3', 0.028_316_846_592],
    ['psi', 'kPa', 6.894_757_293],
    ['atm', 'kPa', 101.325],
    ['atm', 'psi', 14.695_949],
    ['Btu/h', 'W', 0.293_071_07],
    ['in/min', 'mm/min', 25.4],
  ])('one %s is the published number of %s', (from, to, published) => {
    expect(convert({ value: 1, from, to }) / published).toBeCloseTo(1, 7)
  })

  test('going there and back gives the value again for every pair of units of a kind', () => {
    for (const from of Object.keys(UNITS) as Unit[]) {
      for (const to of Object.keys(UNITS) as Unit[]) {
        if (UNITS[from].dimension !== UNITS[to].dimension) continue
        const back = convert({ value: convert({ value: 12.5, from, to }), from: to, to: from })
        expect(back).toBeCloseTo(12.5, 10)
      }
    }
  })

  test('refuses to turn a length into a mass', () => {
    expect(() => convert({ value: 1, from: 'ft', to: 'lb' })).toThrow(CalcError)
  })

  test.each([Number.NaN, Number.POSITIVE_INFINITY])('refuses %d', (value) => {
    expect(() => convert({ value, from: 'ft', to: 'm' })).toThrow(
      expect.objectContaining({ code: 'NOT_FINITE', field: 'value' }),
    )
  })
})

describe('temperature and pressure', () => {
  test('70 °F is 294.2611 K', () => {
    expect(kelvinFromFahrenheit(70)).toBeCloseTo(294.2611, 4)
    expect(STANDARD_TEMPERATURE_K).toBe(kelvinFromFahrenheit(70))
  })

  test('-40 is the same on both scales', () => {
    expect(kelvinFromFahrenheit(-40)).toBeCloseTo(kelvinFromCelsius(-40), 10)
    expect(fahrenheitFromKelvin(233.15)).toBeCloseTo(-40, 10)
    expect(celsiusFromKelvin(233.15)).toBeCloseTo(-40, 10)
  })

  test('a rise of 18 °F is a rise of 10 K', () => {
    expect(kelvinRiseFromFahrenheitRise(18)).toBe(10)
  })

  test('nought on the gauge is one atmosphere absolute', () => {
    expect(absKpaFromPsig(0)).toBe(101.325)
    expect(psigFromGaugeKpa(gaugeKpaFromPsig(2200))).toBeCloseTo(2200, 10)
  })
})

describe('volume of gas at 70 °F and 1 atm', () => {
  // ft³/lb: oxygen 12.079 (Schmidt & Wagner 1985), acetylene 14.76, propane 8.623 (Lemmon et al. 2009),
  // methane 24.065 (Setzmann & Wagner 1991), propylene 9.054.
  test.each([
    ['oxygen', 12.079],
    ['acetylene', 14.76],
    ['propane', 8.623],
    ['natural_gas', 24.065],
    ['propylene', 9.054],
  ] as const)('a pound of %s is %d ft³', (gas, published) => {
    expect(gasFt3FromKg(gas, 0.453_592_37)).toBeCloseTo(published, 2)
  })

  test('244 ft³ of oxygen weigh about 20 lb, as TC 9-237 says', () => {
    expect(gasKgFromFt3('oxygen', 244) / 0.453_592_37).toBeCloseTo(20.2, 1)
  })

  test('mass to volume and back is the same mass', () => {
    expect(gasKgFromM3('propane', gasM3FromKg('propane', 3))).toBeCloseTo(3, 12)
  })

  // 15 lb net of acetylene: 221.4 ft³ at 70 °F (real gas). Manly’s 204 and Campbell’s 217.5 are the same gas at
  // 0 °C and 60 °F.
  test('15 lb of acetylene are 221.4 ft³ at 70 °F', () => {
    expect(gasFt3FromKg('acetylene', 15 * 0.453_592_37)).toBeCloseTo(221.4, 1)
  })

  // A pound of iron to Fe3O4 takes 4.614 ft³ of oxygen at 70 °F by atomic weights; 4.6 in a welding handbook
  // (from memory).
  test('a pound of iron burnt to Fe3O4 takes 4.614 ft³ of oxygen', () => {
    const oxygenLb = (2 * 31.998) / (3 * 55.845)
    expect(gasFt3FromKg('oxygen', oxygenLb * 0.453_592_37)).toBeCloseTo(4.614, 3)
  })

  // OpenStax Chemistry 9.17: 9340 L of acetylene take 3.34 tanks of 7000 L of oxygen; 2.7 L of propane 13.5 L.
  test('complete combustion takes the printed volumes of oxygen', () => {
    const oxygenFor = (gas: 'acetylene' | 'propane', litres: number) =>
      litres * (GASES[gas].oxygenForCompleteCombustion ?? 0)
    expect(oxygenFor('acetylene', 9340) / 7000).toBeCloseTo(3.34, 2)
    expect(oxygenFor('propane', 2.7)).toBe(13.5)
  })
})
