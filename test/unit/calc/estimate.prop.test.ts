import fc from 'fast-check'
import { expect, test } from 'vitest'
import { interpolateMonotone, type Point } from '@/lib/calc/interpolate'
import { OFC_CARBON_STEEL } from '@/lib/calc/tables/ofc-carbon-steel'
import { tipSettings } from '@/lib/calc/tip-settings'
import { cutList, estimated, plateCut } from './estimate-fixtures'

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const thickness = between(0.0032, 0.3)
const fuel = fc.constantFrom('acetylene', 'propane', 'natural_gas')
const process = fc.constantFrom('hand' as const, 'machine' as const)
const cut = fc.record({
  thicknessM: thickness,
  lengthM: between(0.05, 30),
  count: fc.integer({ min: 1, max: 40 }),
  fuel,
  process,
  pierced: fc.boolean(),
})
type Cut = typeof cut extends fc.Arbitrary<infer T> ? T : never

const estimateOf = ({ thicknessM, lengthM, count, pierced, ...rest }: Cut) =>
  estimated(
    cutList({
      fuel: rest.fuel,
      lightUps: 1,
      cuts: [
        plateCut({
          shape: { kind: 'plate', thicknessM, lengthM },
          count,
          pierced,
          process: rest.process,
        }),
      ],
    }),
  )

test('gas grows with length', () => {
  fc.assert(
    fc.property(cut, between(1.001, 3), (one, times) => {
      const [short, long] = [estimateOf(one), estimateOf({ ...one, lengthM: one.lengthM * times })]
      expect(long.oxygen.mean).toBeGreaterThan(short.oxygen.mean)
      expect(long.fuelGas.mean).toBeGreaterThan(short.fuelGas.mean)
      expect(long.oxygenFloorKg).toBeGreaterThan(short.oxygenFloorKg)
    }),
    { numRuns: 150 },
  )
})

test('gas grows with thickness', () => {
  fc.assert(
    fc.property(cut, thickness, (one, other) => {
      const [thinM, thickM] = [Math.min(one.thicknessM, other), Math.max(one.thicknessM, other)]
      fc.pre(thickM - thinM > 1e-5)
      const [thin, thick] = [
        estimateOf({ ...one, thicknessM: thinM }),
        estimateOf({ ...one, thicknessM: thickM }),
      ]
      expect(thick.oxygen.mean).toBeGreaterThan(thin.oxygen.mean)
      expect(thick.fuelGas.mean).toBeGreaterThan(thin.fuelGas.mean)
    }),
    { numRuns: 300 },
  )
})

test('the interval holds the mean, and the floor is under all of it', () => {
  fc.assert(
    fc.property(cut, (one) => {
      const { oxygen, fuelGas, oxygenFloorKg } = estimateOf(one)
      for (const gas of [oxygen, fuelGas]) {
        expect(gas.low90).toBeLessThanOrEqual(gas.mean)
        expect(gas.high90).toBeGreaterThan(gas.mean)
        expect(gas.low90).toBeGreaterThan(0)
      }
      expect(oxygen.low90).toBeGreaterThanOrEqual(oxygenFloorKg)
    }),
    { numRuns: 200 },
  )
})

test('splitting a cut list into two never creates or loses gas, time or weight', () => {
  fc.assert(
    fc.property(cut, fc.integer({ min: 1, max: 20 }), (one, extra) => {
      const shape = { kind: 'plate', thicknessM: one.thicknessM, lengthM: one.lengthM } as const
      const part = (id: string, count: number) =>
        plateCut({ id, shape, count, pierced: one.pierced, process: one.process })
      const whole = estimated(
        cutList({ fuel: one.fuel, lightUps: 2, cuts: [part('a', one.count + extra)] }),
      )
      const split = estimated(
        cutList({ fuel: one.fuel, lightUps: 2, cuts: [part('a', one.count), part('b', extra)] }),
      )
      expect(split.oxygen.mean / whole.oxygen.mean).toBeCloseTo(1, 12)
      expect(split.fuelGas.mean / whole.fuelGas.mean).toBeCloseTo(1, 12)
      expect(split.oxygen.standardUncertainty / whole.oxygen.standardUncertainty).toBeCloseTo(1, 9)
      expect(split.time.torchS / whole.time.torchS).toBeCloseTo(1, 12)
    }),
    { numRuns: 150 },
  )
})

test('settings stay inside the table’s ranges at any thickness', () => {
  fc.assert(
    fc.property(thickness, process, (pathM, how) => {
      const settings = tipSettings({
        chart: OFC_CARBON_STEEL,
        fuel: 'acetylene',
        pathM,
        process: how,
      })
      const speeds = OFC_CARBON_STEEL.rows.flatMap((row) => row.speedInPerMin)
      expect(settings.speedMPerS).toBeGreaterThanOrEqual((Math.min(...speeds) * 0.0254) / 60)
      expect(settings.speedMPerS).toBeLessThanOrEqual((Math.max(...speeds) * 0.0254) / 60)
      for (const [low, high] of [
        settings.ranges.speedMPerS,
        settings.ranges.cuttingOxygenM3PerS,
        settings.ranges.fuelM3PerS,
      ]) {
        expect(low).toBeLessThanOrEqual(high)
      }
    }),
    { numRuns: 300 },
  )
})

test('looking up near a thickness is looking up in the whole table', () => {
  const points = OFC_CARBON_STEEL.rows.map((row): Point => [row.thicknessIn, row.speedInPerMin[1]])
  fc.assert(
    fc.property(thickness, (pathM) => {
      const { ranges } = tipSettings({
        chart: OFC_CARBON_STEEL,
        fuel: 'propane',
        pathM,
        process: 'hand',
      })
      const whole = (interpolateMonotone(points, pathM / 0.0254) * 0.0254) / 60
      expect(ranges.speedMPerS[1] / whole).toBeCloseTo(1, 12)
    }),
    { numRuns: 300 },
  )
})
