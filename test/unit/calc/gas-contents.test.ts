import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { boilOff } from '@/lib/calc/boil-off'
import { contentsFromReading } from '@/lib/calc/contents'
import { packContents } from '@/lib/calc/contents-pack'
import { gaugeAtTemperature } from '@/lib/calc/gauge-temperature'
import { idealVolume } from '@/lib/calc/ideal-gas'
import { liquidContents } from '@/lib/calc/liquid-contents'
import { propaneVapourPressure } from '@/lib/calc/propane-pressure'
import { propaneWinter } from '@/lib/calc/propane-winter'
import { gaugeKpaFromPsig, kelvinFromFahrenheit, UNITS } from '@/lib/calc/units'
import { gasMassFromBase, gasVolumeAtBase } from '@/lib/calc/volume-base'

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const okOf = <T extends { ok: boolean }>(outcome: T) => {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome))
  return outcome as Extract<T, { ok: true }>
}

describe('a pack', () => {
  const size = { gas: 'oxygen' as const, nominalKg: 9.2, waterVolumeL: 43 }
  const reading = { kind: 'gauge' as const, gaugePressureKpa: 9000, temperatureK: 290 }

  test('holds as many times one cylinder, with the shared gauge error in full', () => {
    const one = okOf(contentsFromReading(reading, size))
    const pack = okOf(packContents({ cylinders: 9, size, reading }))
    expect(pack.gasKg).toBeCloseTo(9 * one.gasKg, 9)
    const share = (code: string) =>
      (pack.chain.find((term) => term.code === code)?.contribution ?? 0) /
      (one.chain.find((term) => term.code === code)?.contribution ?? 1)
    expect(share('gauge')).toBeCloseTo(9, 9)
    expect(share('temperature')).toBeCloseTo(9, 9)
    expect(share('waterVolume')).toBeCloseTo(3, 9)
  })

  test.each([
    [0, 'OUT_OF_RANGE'],
    [2.5, 'NOT_WHOLE'],
    [Number.NaN, 'OUT_OF_RANGE'],
    [65, 'OUT_OF_RANGE'],
  ])('of %d cylinders is refused as %s', (cylinders, code) => {
    expect(packContents({ cylinders, size, reading })).toMatchObject({
      refusals: [{ code, field: 'cylinders' }],
    })
  })
})

describe('a liquid cylinder', () => {
  const level = (levelShare: number, gaugePressureKpa = 1500) =>
    okOf(
      liquidContents({
        gas: 'oxygen',
        reading: { kind: 'level', levelShare, containerVolumeL: 176, gaugePressureKpa },
      }),
    ).gasKg

  test('by weight is gross less tare', () => {
    const outcome = okOf(
      liquidContents({ gas: 'oxygen', reading: { kind: 'weight', grossKg: 250, tareKg: 113 } }),
    )
    expect(outcome.gasKg.mean).toBe(137)
    expect(outcome.gasKg.standardUncertainty).toBeCloseTo(Math.hypot(0.5, 0.5), 12)
  })

  test('by level is far less certain, and holds more when cold and unpressed', () => {
    expect(level(0.5).standardUncertainty).toBeGreaterThan(3)
    expect(level(0.5, 0).mean).toBeGreaterThan(level(0.5, 2400).mean)
    expect(level(0).mean).toBeGreaterThan(0)
  })

  test('more level is more gas, within bounds, for every liquid and pressure', () => {
    const gas = fc.constantFrom('oxygen' as const, 'nitrogen' as const, 'argon' as const)
    fc.assert(
      fc.property(
        gas,
        between(0, 0.99),
        between(0.001, 0.01),
        between(0, 2400),
        (which, low, more, kpa) => {
          const at = (levelShare: number) =>
            okOf(
              liquidContents({
                gas: which,
                reading: {
                  kind: 'level',
                  levelShare,
                  containerVolumeL: 100,
                  gaugePressureKpa: kpa,
                },
              }),
            ).gasKg
          const less = at(low)
          expect(at(low + more).mean).toBeGreaterThan(less.mean)
          expect(less.low90).toBeGreaterThanOrEqual(0)
          expect(less.high90).toBeGreaterThanOrEqual(less.mean)
        },
      ),
      { numRuns: 100 },
    )
  })

  test.each([
    [
      { kind: 'level' as const, levelShare: 1.1, containerVolumeL: 100, gaugePressureKpa: 100 },
      'reading.levelShare',
    ],
    [
      { kind: 'level' as const, levelShare: 0.5, containerVolumeL: 100, gaugePressureKpa: 9000 },
      'reading.gaugePressureKpa',
    ],
    [{ kind: 'weight' as const, grossKg: 90, tareKg: 113 }, 'reading.grossKg'],
    [{ kind: 'weight' as const, grossKg: Number.NaN, tareKg: 113 }, 'reading.grossKg'],
  ])('%j is refused', (reading, field) => {
    expect(liquidContents({ gas: 'oxygen', reading })).toMatchObject({
      ok: false,
      refusals: [{ code: 'OUT_OF_RANGE', field }],
    })
  })
})

describe('boil-off', () => {
  const amount = (gasKg: number) => ({ gasKg, standardUncertaintyKg: 0.7 })
  const stood = {
    capacityKg: 160,
    lossSharePerDay: 0.015,
    elapsedS: 3 * 86_400,
    before: amount(120),
  }

  test('is an expected loss: a share of the capacity a day', () => {
    const outcome = okOf(boilOff(stood))
    expect(outcome.expectedLossKg.mean).toBeCloseTo(7.2, 9)
    expect(outcome.expectedLeftKg.mean).toBeCloseTo(112.8, 9)
    expect(outcome.found).toBeNull()
  })

  test.each([
    [113, 'withinBoilOff'],
    [111, 'withinBoilOff'],
    [104, 'moreThanBoilOff'],
  ])('%d kg left is %s', (left, verdict) => {
    expect(okOf(boilOff({ ...stood, after: amount(left) })).found?.verdict).toBe(verdict)
  })

  test('what was drawn is not counted as lost', () => {
    const used = okOf(boilOff({ ...stood, drawn: amount(40), after: amount(73) }))
    expect(used.found?.verdict).toBe('withinBoilOff')
  })

  test('never leaves less than nothing and never loses more than there was', () => {
    fc.assert(
      fc.property(between(0, 200), between(0, 0.5), between(0, 1e7), (kg, share, elapsedS) => {
        const outcome = okOf(
          boilOff({ capacityKg: 200, lossSharePerDay: share, elapsedS, before: amount(kg) }),
        )
        expect(outcome.expectedLeftKg.mean).toBeGreaterThanOrEqual(0)
        expect(outcome.expectedLossKg.mean).toBeLessThanOrEqual(kg)
        expect(outcome.expectedLossKg.mean + outcome.expectedLeftKg.mean).toBeCloseTo(kg, 9)
      }),
      { numRuns: 100 },
    )
  })

  test('refuses every figure that cannot be at once', () => {
    const outcome = boilOff({
      ...stood,
      capacityKg: 0,
      lossSharePerDay: 2,
      after: { gasKg: -1, standardUncertaintyKg: 0 },
    })
    expect(outcome.ok ? [] : outcome.refusals.map(({ field }) => field)).toEqual([
      'capacityKg',
      'lossSharePerDay',
      'after.gasKg',
    ])
  })
})

describe('propane in the cold', () => {
  const lb = UNITS.lb.toBase
  const ft3PerH = UNITS['ft3/h'].toBase
  const cold = (airF: number, drawFt3PerH: number, more = {}) =>
    propaneWinter({
      capacityKg: 100 * lb,
      remainingKg: 50 * lb,
      airTemperatureK: kelvinFromFahrenheit(airF),
      drawM3PerS: drawFt3PerH * ft3PerH,
      ...more,
    })

  test('nothing drawn leaves the liquid as warm as the air', () => {
    const outcome = okOf(cold(40, 0))
    expect(outcome.liquidTemperatureK.mean).toBeCloseTo(kelvinFromFahrenheit(40), 9)
    expect(outcome.supplyGaugePressureKpa.mean).toBeCloseTo(gaugeKpaFromPsig(63.9), 0)
  })

  test('the draw at the limit cools it to −20 °F', () => {
    const atLimit = okOf(cold(40, 125_000 / 2500))
    expect(atLimit.cylindersNeeded).toBe(1)
    expect(atLimit.liquidTemperatureK.mean).toBeCloseTo(kelvinFromFahrenheit(-20), 6)
    expect(atLimit.supplyGaugePressureKpa.mean).toBeCloseTo(gaugeKpaFromPsig(10.7), 0)
  })

  test('above what boils it is refused, and more cylinders help', () => {
    expect(cold(0, 40)).toMatchObject({
      refusals: [{ code: 'DRAW_ABOVE_LIMIT', because: 'propaneBoilsTooSlowly' }],
    })
    expect(okOf(cold(0, 40, { cylinders: 2 })).cylindersNeeded).toBe(2)
  })

  test('a regulator that needs more pressure than is left is refused', () => {
    expect(cold(0, 20, { neededGaugePressureKpa: gaugeKpaFromPsig(30) })).toMatchObject({
      refusals: [{ code: 'VAPOUR_PRESSURE_TOO_LOW', field: 'neededGaugePressureKpa' }],
    })
  })

  test('more draw never leaves more pressure', () => {
    fc.assert(
      fc.property(between(0, 20), between(0.1, 5), between(10, 90), (draw, more, airF) => {
        const low = okOf(cold(airF, draw, { cylinders: 3 }))
        const high = okOf(cold(airF, draw + more, { cylinders: 3 }))
        expect(high.supplyGaugePressureKpa.mean).toBeLessThan(low.supplyGaugePressureKpa.mean)
      }),
      { numRuns: 60 },
    )
  })
})

describe('gauge, volume and pressure over their whole domain', () => {
  test('going to another temperature and back shows the same gauge', () => {
    const gas = fc.constantFrom(
      'oxygen' as const,
      'nitrogen' as const,
      'argon' as const,
      'acetylene' as const,
    )
    fc.assert(
      fc.property(
        gas,
        between(100, 4000),
        between(256, 320),
        between(256, 320),
        (which, kpa, from, to) => {
          const there = okOf(
            gaugeAtTemperature({
              gas: which,
              gaugePressureKpa: kpa,
              temperatureK: from,
              toTemperatureK: to,
            }),
          ).gaugePressureKpa.mean
          fc.pre(there > 0 && there < 4130)
          const back = okOf(
            gaugeAtTemperature({
              gas: which,
              gaugePressureKpa: there,
              temperatureK: to,
              toTemperatureK: from,
            }),
          ).gaugePressureKpa.mean
          expect(Math.abs(back / kpa - 1)).toBeLessThan(1e-6)
          if (to > from + 1e-6) expect(there).toBeGreaterThan(kpa)
        },
      ),
      { numRuns: 60 },
    )
  })

  test('volume and mass at a base go there and back to 1e-12', () => {
    const gas = fc.constantFrom('oxygen' as const, 'acetylene' as const, 'propane' as const)
    const base = fc.constantFrom('zeroC' as const, 'sixtyF' as const, 'seventyF' as const)
    fc.assert(
      fc.property(gas, base, between(0.001, 1000), (which, at, gasKg) => {
        const { volumeM3 } = okOf(gasVolumeAtBase({ gas: which, base: at, gasKg }))
        const back = okOf(gasMassFromBase({ gas: which, base: at, volumeM3: volumeM3.mean }))
        expect(Math.abs(back.gasKg.mean / gasKg - 1)).toBeLessThan(1e-12)
      }),
      { numRuns: 200 },
    )
  })

  test('vapour pressure rises with temperature, and its interval holds it', () => {
    fc.assert(
      fc.property(between(232, 324), between(0.1, 3), (temperatureK, warmer) => {
        const at = (k: number) => okOf(propaneVapourPressure({ temperatureK: k })).gaugePressureKpa
        const low = at(temperatureK)
        expect(at(temperatureK + warmer).mean).toBeGreaterThan(low.mean)
        expect(low.low90).toBeLessThan(low.mean)
        expect(low.high90).toBeGreaterThan(low.mean)
      }),
      { numRuns: 100 },
    )
  })

  test('an ideal volume goes there and back', () => {
    const state = fc.record({ pressureAbsKpa: between(1, 20_000), temperatureK: between(100, 500) })
    fc.assert(
      fc.property(state, state, between(0.001, 1000), (from, to, volume) => {
        const back = idealVolume({ volume: idealVolume({ volume, from, to }), from: to, to: from })
        expect(Math.abs(back / volume - 1)).toBeLessThan(1e-12)
      }),
      { numRuns: 200 },
    )
  })
})
