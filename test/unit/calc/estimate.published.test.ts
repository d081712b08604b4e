import { describe, expect, test } from 'vitest'
import { emptyRuns, fillRuns } from '@/lib/calc/cut-runs'
import { pierceSeconds, preheatSeconds, purityFactors } from '@/lib/calc/cut-times'
import { gasCostMinor } from '@/lib/calc/gas-cost'
import { BURNT_SHARE, LITRES_PER_M_MM2_FEO, oxygenFloorKg } from '@/lib/calc/oxygen-floor'
import { oxygenPressure1916 } from '@/lib/calc/oxygen-pressure'
import { pieceWeightKg } from '@/lib/calc/piece-weight'
import { OFC_CARBON_STEEL } from '@/lib/calc/tables/ofc-carbon-steel'
import { tipSettings } from '@/lib/calc/tip-settings'
import { gasM3FromKg, psigFromGaugeKpa, UNITS } from '@/lib/calc/units'
import printed from '../../vectors/calc/cutting-1916.json'
import { plateCut } from './estimate-fixtures'

const inch = UNITS.in.toBase
const settingsAt = (thicknessIn: number, process: 'hand' | 'machine' = 'hand') =>
  tipSettings({ chart: OFC_CARBON_STEEL, fuel: 'acetylene', pathM: thicknessIn * inch, process })

describe('cost of gas per foot of cut, Manly 1916 (Gutenberg 7969)', () => {
  // Prices recovered from the rows: oxygen 3 cents, acetylene 1 cent per ft³.
  const costUsd = (row: (typeof printed.rows)[number]) =>
    gasCostMinor([
      { quantity: row.oxygen_total_ft3_per_ft, unitPriceMinor: 3 },
      { quantity: row.acetylene_ft3_per_ft, unitPriceMinor: 1 },
    ]) / 100

  test.each(printed.rows.slice(0, 8))(
    '$thickness_in in costs $printed_gas_cost_usd_per_ft a foot',
    (row) => {
      expect(Math.abs(costUsd(row) - row.printed_gas_cost_usd_per_ft)).toBeLessThanOrEqual(0.0005)
    },
  )

  test('the ninth row is a misprint: 1.316 computed against 1.311 printed', () => {
    const row = printed.rows[8]
    expect(row && costUsd(row)).toBeCloseTo(1.316, 6)
    expect(row?.printed_gas_cost_usd_per_ft).toBe(1.311)
  })
})

describe('built-in table', () => {
  // The print of 1916 counts heating oxygen in; the table's range, with preheat oxygen added, must hold it.
  test.each(printed.rows)(
    'oxygen per foot at $thickness_in in lies in the range of the table',
    (row) => {
      const { ranges } = settingsAt(row.thickness_in)
      const perFoot = (flow: number, speed: number) =>
        flow / UNITS['ft3/h'].toBase / (speed / UNITS['in/min'].toBase) / 5
      const lean = perFoot(
        ranges.cuttingOxygenM3PerS[0] + 1.1 * ranges.fuelM3PerS[0],
        ranges.speedMPerS[1],
      )
      const rich = perFoot(
        ranges.cuttingOxygenM3PerS[1] + 1.25 * ranges.fuelM3PerS[1],
        ranges.speedMPerS[0],
      )
      expect(row.oxygen_total_ft3_per_ft).toBeGreaterThan(lean)
      expect(row.oxygen_total_ft3_per_ft).toBeLessThan(rich)
    },
  )

  // Martin, Penn State Altoona, ASME MSEC 2021 (read): 1/2 in cut well at 16 in/min, badly at 24 to 26.
  test('speed for half-inch plate is at most what a measured study called too fast', () => {
    expect(settingsAt(0.5, 'machine').speedMPerS / UNITS['in/min'].toBase).toBeLessThan(24)
    expect(settingsAt(0.5, 'hand').speedMPerS / UNITS['in/min'].toBase).toBeCloseTo(15.6, 1)
    expect(settingsAt(0.5).ranges.speedMPerS[0] / UNITS['in/min'].toBase).toBe(12)
  })

  test('every row is given back as it stands in the table', () => {
    for (const row of OFC_CARBON_STEEL.rows) {
      const { ranges } = settingsAt(row.thicknessIn)
      expect(ranges.speedMPerS.map((speed) => speed / UNITS['in/min'].toBase)).toEqual(
        row.speedInPerMin.map((speed) => expect.closeTo(speed, 9)),
      )
      expect(ranges.cuttingOxygenM3PerS.map((flow) => flow / UNITS['ft3/h'].toBase)).toEqual(
        row.cuttingOxygenFt3PerH.map((flow) => expect.closeTo(flow, 9)),
      )
    }
  })

  test('gas per length rises with thickness from row to row, by hand and by machine, with every fuel', () => {
    for (const fuel of ['acetylene', 'natural_gas', 'propane'] as const) {
      for (const process of ['hand', 'machine'] as const) {
        const perLength = OFC_CARBON_STEEL.rows.map((row) => {
          const settings = tipSettings({
            chart: OFC_CARBON_STEEL,
            fuel,
            pathM: row.thicknessIn * inch,
            process,
          })
          return [
            settings.cuttingOxygenM3PerS / settings.speedMPerS,
            settings.fuelM3PerS / settings.speedMPerS,
          ] as const
        })
        for (const [i, [oxygen, gas]] of perLength.entries()) {
          expect(oxygen).toBeGreaterThan(perLength[i - 1]?.[0] ?? 0)
          expect(gas).toBeGreaterThanOrEqual(perLength[i - 1]?.[1] ?? 0)
        }
      }
    }
  })
})

describe('floor under oxygen', () => {
  // Stoichiometry: 0.2865 kg oxygen per kg iron to FeO; 7850 kg/m³; 1.32614 kg/m³ at 70 °F.
  test('burning a mm² of kerf over a metre to FeO takes 1.6959 L', () => {
    const oxygenPerIron = 31.998 / 2 / 55.845
    expect(oxygenPerIron).toBeCloseTo(0.2865, 4)
    expect((oxygenPerIron * 7850 * 1e-6 * 1000) / 1.326_14).toBeCloseTo(LITRES_PER_M_MM2_FEO, 3)
  })

  // Worked figure: 12.7 mm plate, 1.6 mm kerf, 60 % burnt: 20.7 L/m; ours takes the kerf at the narrow edge.
  test('half-inch plate takes at least about 20 L a metre', () => {
    expect(LITRES_PER_M_MM2_FEO * BURNT_SHARE * 12.7 * 1.6).toBeCloseTo(20.7, 1)
    const litres = gasM3FromKg('oxygen', oxygenFloorKg({ lengthM: 1, pathM: 0.0127 })) * 1000
    expect(litres).toBeGreaterThan(19)
    expect(litres).toBeLessThan(20.7)
  })

  const overFloor = (thicknessIn: number, m3PerM: number) =>
    m3PerM / gasM3FromKg('oxygen', oxygenFloorKg({ lengthM: 1, pathM: thicknessIn * inch }))

  test('the floor is under what the table gives, by machine too, at every thickness', () => {
    for (const { thicknessIn } of OFC_CARBON_STEEL.rows) {
      const settings = settingsAt(thicknessIn, 'machine')
      expect(
        overFloor(thicknessIn, settings.cuttingOxygenM3PerS / settings.speedMPerS),
      ).toBeGreaterThan(1.2)
    }
  })

  // Least flow at highest speed. The 6 in row (from memory) promises 2 % less oxygen than its kerf burns.
  test('only the leanest corner of the 6 in row is below the floor', () => {
    const below = OFC_CARBON_STEEL.rows.filter(({ thicknessIn }) => {
      const { ranges } = settingsAt(thicknessIn)
      return overFloor(thicknessIn, ranges.cuttingOxygenM3PerS[0] / ranges.speedMPerS[1]) < 1
    })
    expect(below.map((row) => row.thicknessIn)).toEqual([6])
  })
})

describe('geometry', () => {
  // 1 / cos: 30° 1.155, 37.5° 1.260, 45° 1.414.
  test.each([
    [30, 1.155],
    [37.5, 1.26],
    [45, Math.SQRT2],
  ])('a bevel of %d° cuts %d times the thickness', (bevelDeg, factor) => {
    const runs = emptyRuns()
    const shape = { kind: 'plate', thicknessM: 1, lengthM: 1 } as const
    fillRuns(plateCut({ shape, bevelDeg }), runs)
    expect(runs.pathM[0]).toBeCloseTo(factor, 3)
  })

  // A 10 ft length of W12x50 is 500 lb by its name; 1/4 in plate is 10.2 lb/ft² at 490 lb/ft³.
  test('pieces weigh what their designation and the usual plate weight say', () => {
    const beam = { kind: 'wShape', designation: 'W12x50' } as const
    const beamKg = pieceWeightKg(plateCut({ shape: beam, piece: { lengthM: 3.048 } }))
    expect((beamKg ?? 0) / UNITS.lb.toBase).toBeCloseTo(500, 6)
    const plate = { kind: 'plate', thicknessM: 0.00635, lengthM: 1 } as const
    const plateKg = pieceWeightKg(plateCut({ shape: plate, piece: { areaM2: UNITS.ft2.toBase } }))
    expect((plateKg ?? 0) / UNITS.lb.toBase).toBeCloseTo(10.2, 1)
  })

  // NPS 6 schedule 40: 6.625 in outside, 0.280 in wall, 18.97 lb/ft (ASME B36.10, from memory).
  test('6 in schedule 40 pipe weighs 18.97 lb/ft', () => {
    const pipe = { kind: 'pipe', outsideDiameterM: 6.625 * inch, wallM: 0.28 * inch } as const
    const kg = pieceWeightKg(plateCut({ shape: pipe, piece: { lengthM: 0.3048 } }))
    expect((kg ?? 0) / UNITS.lb.toBase).toBeCloseTo(18.97, 1)
  })
})

describe('times and purity', () => {
  // 2 s dwell for the pierce on 1/2 in plate (Penn State Altoona, read).
  test('piercing half-inch plate dwells 2 s', () => {
    expect(pierceSeconds(0.0127)).toBeCloseTo(2, 9)
  })

  // 3 to 5 s of preheat on 6 mm, 15 to 20 s on 25 mm (unsourced trade note).
  test.each([
    [0.006, 3, 5],
    [0.025, 15, 20],
  ])('preheat to pierce %d m is between %d and %d s', (pathM, low, high) => {
    const preheatS = preheatSeconds(pathM, 'acetylene')
    expect(preheatS).toBeGreaterThanOrEqual(low)
    expect(preheatS).toBeLessThanOrEqual(high)
  })

  // At 98.5 %: speed down 15 %, cutting oxygen up 25 % (course notes, read).
  test('oxygen of 98.5 % cuts 15 % slower and takes a quarter more', () => {
    expect(1 / purityFactors(98.5).time).toBeCloseTo(0.85, 12)
    expect(purityFactors(98.5).oxygenPerLength).toBeCloseTo(1.25, 12)
    expect(purityFactors(99.7)).toEqual({ time: 1, oxygenPerLength: 1 })
  })
})

describe('oxygen pressure of 1916', () => {
  test.each([
    [0.25, 10],
    [2, 40],
    [9, 100],
  ])('%d in was cut at %d psig', (thicknessIn, psig) => {
    const pressure = oxygenPressure1916(thicknessIn * inch)
    expect(psigFromGaugeKpa(pressure?.value ?? 0)).toBeCloseTo(psig, 9)
    expect(pressure?.source.provenance).toBe('read')
  })

  test('outside the print there is none', () => {
    expect(oxygenPressure1916(0.2 * inch)).toBeNull()
    expect(oxygenPressure1916(10 * inch)).toBeNull()
  })
})
