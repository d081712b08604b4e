import { describe, expect, test } from 'vitest'
import type { TipChart } from '@/lib/calc/tables/tip-chart'
import { tipPressures } from '@/lib/calc/tip-pressures'
import { psigFromGaugeKpa, UNITS } from '@/lib/calc/units'

const at = (thicknessIn: number, chart: TipChart | null = null) => {
  const { oxygen, fuel } = tipPressures({
    chart,
    fuel: 'acetylene',
    process: 'hand',
    pathM: thicknessIn * UNITS.in.toBase,
  })
  const psig = (pressure: typeof oxygen) =>
    pressure && [pressure.lowGaugeKpa, pressure.highGaugeKpa].map(psigFromGaugeKpa)
  return { oxygen: psig(oxygen), fuel: psig(fuel), provenance: oxygen?.provenance }
}

describe('pressures at the torch by common practice, no source', () => {
  test.each([
    [1 / 8, 20, 3],
    [3 / 8, 25, 5],
    [2, 45, 8],
  ])(
    '%s in of steel takes about %s psi of oxygen and %s psi of acetylene',
    (thick, oxygen, fuel) => {
      const found = at(thick)
      expect(found.provenance).toBe('common practice')
      expect(found.oxygen?.[0]).toBeLessThan(oxygen)
      expect(found.oxygen?.[1]).toBeGreaterThan(oxygen)
      expect(found.fuel?.[0]).toBeLessThan(fuel)
      expect(found.fuel?.[1]).toBeGreaterThan(fuel)
    },
  )

  test.each([0.1, 2.1])('says nothing of %s in', (thick) => {
    expect(at(thick)).toMatchObject({ oxygen: null, fuel: null })
  })

  test('acetylene stays under 15 psi', () => {
    for (let thick = 0.125; thick <= 2; thick += 0.125) expect(at(thick).fuel?.[1]).toBeLessThan(15)
  })
})

test('a shop’s own chart comes before practice, between its own thicknesses alone', () => {
  const row = (thicknessIn: number, psig: number): TipChart['rows'][number] => ({
    thicknessIn,
    orificeIn: null,
    speedInPerMin: [10, 20],
    cuttingOxygenFt3PerH: [100, 150],
    fuelFt3PerH: { acetylene: [7, 14] },
    oxygenPsig: [psig, psig + 4],
  })
  const chart: TipChart = {
    id: 'own',
    title: 'Own',
    source: 'Card in the shop',
    provenance: 'entered',
    materials: ['carbon_steel'],
    rows: [row(0.5, 30), row(1, 40)],
  }
  expect(at(1, chart)).toMatchObject({
    oxygen: [expect.closeTo(40, 9), expect.closeTo(44, 9)],
    provenance: 'entered',
  })
  expect(at(1.5, chart).provenance).toBe('common practice')
})
