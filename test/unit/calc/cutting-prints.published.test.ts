import { describe, expect, test } from 'vitest'
import type { CutInput } from '@/lib/calc/estimate-types'
import { OFC_CARBON_STEEL } from '@/lib/calc/tables/ofc-carbon-steel'
import { settingRanges } from '@/lib/calc/tip-settings'
import { gasM3FromKg, UNITS } from '@/lib/calc/units'
import prints from '@/test/vectors/calc/cutting-prints.json'
import { cutList, estimated, plateCut } from './estimate-fixtures'

const inch = UNITS.in.toBase

const tenOf = (fuel: string, shape: CutInput['shape']) =>
  estimated(cutList({ fuel, cuts: [plateCut({ shape })] }))

describe('"Sheet and Plate Metal Work", cutting by hand with acetylene', () => {
  const { speeds_in_per_min: speeds, acetylene_share_of_oxygen: share } = prints.sheet_metal_book

  test.each(speeds as [number, number][])(
    '%d in at %d in a minute lies in the range of the table',
    (thicknessIn, inPerMin) => {
      const at = { chart: OFC_CARBON_STEEL, fuel: 'acetylene', pathM: thicknessIn * inch } as const
      const [low, high] = settingRanges(at).speedMPerS
      const speed = inPerMin * UNITS['in/min'].toBase
      expect(speed).toBeGreaterThanOrEqual(low * (1 - 1e-12))
      expect(speed).toBeLessThanOrEqual(high)
    },
  )

  // The book says 25 % of the oxygen on the thinnest plate and 10 % on the thickest; the table of 1916 has 21.5 to 4.6 %.
  test('acetylene is a quarter of the oxygen at most, and less the thicker the plate', () => {
    const shares = [1 / 8, 1 / 4, 1 / 2, 1, 2, 4, 6, 8, 12].map((thicknessIn) => {
      const shape = { kind: 'plate', thicknessM: thicknessIn * inch, lengthM: 1 } as const
      const { fuelGas, oxygen } = tenOf('acetylene', shape)
      return gasM3FromKg('acetylene', fuelGas.mean) / gasM3FromKg('oxygen', oxygen.mean)
    })
    expect(shares).toEqual(shares.toSorted((a, b) => b - a))
    expect(shares[0]).toBeLessThan(share[1] ?? 0)
    expect(shares[0]).toBeGreaterThan(share[0] ?? 1)
    expect(shares.at(-1)).toBeLessThan(share[0] ?? 0)
    expect(shares.at(-1)).toBeGreaterThan(0.04)
  })
})

// The norm asks for 1.25 to 1.29 times the oxygen and about 1.3 times the weight of fuel with propane. The built-in
// table, with its wide range of propane, comes out higher (1.8 and 2.1): flagged, not forced. Its interval holds both.
describe('propane beside acetylene on pipe, VPNRM 476-89', () => {
  test.each(prints.pipe_norm.rows as [number, number, number, number, number][])(
    'pipe of %d mm: more oxygen and more fuel by weight, the printed ratio within the interval',
    (outsideMm, oxygenPropane, propaneKg, oxygenAcetylene, acetyleneKg) => {
      const shape = { kind: 'pipe', outsideDiameterM: outsideMm / 1000, wallM: 0.004 } as const
      const [propane, acetylene] = [tenOf('propane', shape), tenOf('acetylene', shape)]
      const oxygenKg = acetylene.oxygen.mean * (oxygenPropane / oxygenAcetylene)
      const fuelKg = acetylene.fuelGas.mean * (propaneKg / acetyleneKg)
      expect(oxygenKg).toBeGreaterThan(propane.oxygen.low90)
      expect(oxygenKg).toBeLessThan(propane.oxygen.mean)
      expect(fuelKg).toBeGreaterThan(propane.fuelGas.low90)
      expect(fuelKg).toBeLessThan(propane.fuelGas.mean)
    },
  )
})

test('a pound of iron burnt to magnetite takes the handbook’s 4.6 ft³ of oxygen', () => {
  const { printed_ft3_per_lb: printed, computed_ft3_per_lb: computed } = prints.iron_to_magnetite
  const oxygenKg = (UNITS.lb.toBase * 4 * 15.999) / (3 * 55.845)
  const ft3 = gasM3FromKg('oxygen', oxygenKg) / UNITS.ft3.toBase
  expect(ft3).toBeCloseTo(computed, 3)
  expect(Math.abs(ft3 - printed)).toBeLessThan(0.05)
})
