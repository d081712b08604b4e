import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { CYLINDER_GAS_CODES } from '@/lib/calc/gas-data'
import { HAZARD_OF_GAS, hazardTotals } from '@/lib/rules/hazard'

describe('kinds of hazard on a truck', () => {
  // 49 CFR 172.101, from memory: oxygen UN1072, 2.2 (5.1); acetylene UN1001 and propane UN1978, 2.1; argon UN1006, 2.2.
  test('are added up apart, in each body', () => {
    const load = [
      { gasId: 'oxygen', body: 'truck', grossLb: 150 },
      { gasId: 'acetylene', body: 'truck', grossLb: 190 },
      { gasId: 'propane', body: 'truck', grossLb: 70 },
      { gasId: 'argon', body: 'trailer', grossLb: 160 },
      { gasId: 'oxygen', body: 'truck', grossLb: 10 },
    ] as const
    expect(hazardTotals(load)).toEqual([
      { hazard: 'flammable', body: 'truck', un: [1001, 1978], cylinders: 2, grossLb: 260 },
      { hazard: 'oxidizing', body: 'truck', un: [1072], cylinders: 2, grossLb: 160 },
      { hazard: 'inert', body: 'trailer', un: [1006], cylinders: 1, grossLb: 160 },
    ])
  })

  test('lose no pound and no cylinder', () => {
    const one = fc.record({
      gasId: fc.constantFrom(...CYLINDER_GAS_CODES),
      body: fc.constantFrom('truck', 'trailer'),
      grossLb: fc.integer({ min: 1, max: 220 }),
    })
    fc.assert(
      fc.property(fc.array(one), (load) => {
        const totals = hazardTotals(load)
        const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0)
        expect(sum(totals.map((row) => row.grossLb))).toBe(sum(load.map((row) => row.grossLb)))
        expect(sum(totals.map((row) => row.cylinders))).toBe(load.length)
      }),
    )
  })

  test('are known of every gas, each by a number of its own', () => {
    const numbers = CYLINDER_GAS_CODES.map((gas) => HAZARD_OF_GAS[gas].un)
    expect(new Set(numbers).size).toBe(CYLINDER_GAS_CODES.length)
  })
})
