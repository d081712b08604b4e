import fc from 'fast-check'
import { expect, test } from 'vitest'
import { contentsFromReading } from '@/lib/calc/contents'
import { oxygenContentsKg, oxygenGaugePressureKpa } from '@/lib/calc/oxygen-real-gas'

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const state = fc.record({
  gaugePressureKpa: between(0, 21_000),
  temperatureK: between(243, 328),
  waterVolumeL: between(1, 60),
})

test('splitting a cylinder in two never creates or loses oxygen', () => {
  fc.assert(
    fc.property(state, between(0.01, 0.99), (whole, share) => {
      const part = oxygenContentsKg({ ...whole, waterVolumeL: whole.waterVolumeL * share })
      const rest = oxygenContentsKg({ ...whole, waterVolumeL: whole.waterVolumeL * (1 - share) })
      const total = oxygenContentsKg(whole)
      expect(Math.abs(part + rest - total) / total).toBeLessThan(1e-12)
    }),
    { numRuns: 200 },
  )
})

test('more pressure is more oxygen, and a hotter gas at the same pressure is less', () => {
  fc.assert(
    fc.property(state, between(1, 500), between(0.1, 20), (low, rise, warmer) => {
      const contents = oxygenContentsKg(low)
      expect(
        oxygenContentsKg({ ...low, gaugePressureKpa: low.gaugePressureKpa + rise }),
      ).toBeGreaterThan(contents)
      fc.pre(low.temperatureK + warmer <= 328)
      expect(oxygenContentsKg({ ...low, temperatureK: low.temperatureK + warmer })).toBeLessThan(
        contents,
      )
    }),
    { numRuns: 200 },
  )
})

test('the gauge that a mass gives holds that mass', () => {
  fc.assert(
    fc.property(state, (original) => {
      const gasKg = oxygenContentsKg(original)
      const gauge = oxygenGaugePressureKpa({ ...original, gasKg })
      expect(Math.abs(gauge - original.gaugePressureKpa)).toBeLessThan(
        1e-6 * (1 + original.gaugePressureKpa),
      )
    }),
    { numRuns: 150 },
  )
})

test('every interval holds its mean and starts at nothing or more', () => {
  const gas = fc.constantFrom('oxygen' as const, 'acetylene' as const)
  fc.assert(
    fc.property(
      gas,
      between(0, 4000),
      between(256, 327),
      between(0.5, 20),
      (which, gaugePressureKpa, temperatureK, nominalKg) => {
        const size = { gas: which, nominalKg, waterVolumeL: 40 }
        const contents = contentsFromReading(
          { kind: 'gauge', gaugePressureKpa, temperatureK },
          size,
        )
        if (!contents.ok) throw new Error('refused')
        expect(contents.low90Kg).toBeGreaterThanOrEqual(0)
        expect(contents.low90Kg).toBeLessThanOrEqual(contents.gasKg)
        expect(contents.high90Kg).toBeGreaterThan(contents.gasKg)
        expect(contents.standardUncertaintyKg).toBeGreaterThan(0)
      },
    ),
    { numRuns: 200 },
  )
})
