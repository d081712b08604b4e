import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { combustionOxygen } from '@/lib/calc/flame'
import { flameWork } from '@/lib/calc/flame-work'
import { FUEL_CODES } from '@/lib/calc/gas-data'
import { heatingGas } from '@/lib/calc/heating'
import { manifold } from '@/lib/calc/manifold'
import { input, measure, weakest } from '@/lib/calc/measured'
import { runTime } from '@/lib/calc/run-time'
import { shieldingGas } from '@/lib/calc/shielding-gas'
import { gasKgFromFt3, gasKgFromM3, UNITS } from '@/lib/calc/units'
import { workCost } from '@/lib/calc/work-cost'

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const ft3PerH = UNITS['ft3/h'].toBase
const anyFuel = fc.constantFrom(...FUEL_CODES)
const okOf = <T extends { ok: boolean }>(outcome: T) => {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome))
  return outcome as Extract<T, { ok: true }>
}

describe('an uncertain result', () => {
  test('adds the effects of its inputs in quadrature', () => {
    const found = measure({
      formulaCode: 'product',
      unit: 'm²',
      inputs: { a: input(3, 'm', { u: 0.3 }), b: input(4, 'm', { u: 0.1, provenance: 'read' }) },
      of: (at) => at.a * at.b,
    })
    expect(found.mean).toBe(12)
    expect(found.standardUncertainty).toBeCloseTo(Math.hypot(4 * 0.3, 3 * 0.1), 12)
    expect(found.chain.map(({ code }) => code)).toEqual(['a', 'b'])
    expect(found.source.provenance).toBe('read')
  })

  test('keeps an input inside its bounds', () => {
    const found = measure({
      formulaCode: 'root',
      unit: '1',
      inputs: { a: input(0, '1', { u: 1, min: 0 }), b: input(1, '1', { u: 2, max: 1 }) },
      of: (at) => Math.sqrt(at.a) + at.b,
    })
    expect(found.standardUncertainty).toBeCloseTo(Math.hypot(1, 2), 12)
  })

  test('is known as badly as its worst input', () => {
    expect(weakest(['read', 'common practice', 'derived'])).toBe('common practice')
    expect(weakest(['entered', 'read'])).toBe('read')
    expect(weakest([])).toBe('entered')
  })
})

describe('heating', () => {
  const supply = { cylinders: 1, capacityKg: gasKgFromFt3('acetylene', 300) }
  const head = (flowFt3PerH: number, cylinders = 1) =>
    heatingGas({
      fuel: 'acetylene',
      burnS: 1800,
      need: { kind: 'flow', fuelM3PerS: flowFt3PerH * ft3PerH },
      supply: { ...supply, cylinders },
    })

  test('a head that would draw acetone is refused, with the cylinders that it takes', () => {
    expect(head(100)).toMatchObject({
      ok: false,
      refusals: [
        {
          code: 'DRAWS_ACETONE',
          field: 'supply.cylinders',
          value: 1,
          limit: { min: 4 },
          instead: ['moreCylinders', 'smallerHead', 'otherFuel'],
        },
      ],
    })
    expect(okOf(head(100, 4)).withdrawal?.cylindersOnManifold).toBe(4)
  })

  test('a draw exactly at the limit is allowed', () => {
    expect(head(30).ok).toBe(true)
    expect(head(30.1).ok).toBe(false)
  })

  test('of what is left is stricter', () => {
    const outcome = heatingGas({
      fuel: 'acetylene',
      burnS: 60,
      need: { kind: 'flow', fuelM3PerS: 20 * ft3PerH },
      supply: { ...supply, remainingKg: gasKgFromFt3('acetylene', 100), basis: 'remaining' },
    })
    expect(outcome).toMatchObject({ ok: false, refusals: [{ code: 'DRAWS_ACETONE' }] })
  })

  test('steel takes mass times rise times heat, over what enters the work', () => {
    const outcome = okOf(
      heatingGas({
        fuel: 'propane',
        burnS: 600,
        need: { kind: 'steel', massKg: 50, riseK: 200 },
        transferShare: 0.25,
      }),
    )
    expect(outcome.intoWorkW.mean).toBeCloseTo((50 * 200 * 600) / 600, 3)
    expect(outcome.fuelKg.mean * (2043.3 / 44.0956)).toBeCloseTo((50 * 200 * 600) / 0.25 / 1e6, 3)
    expect(outcome.withdrawal).toBeNull()
  })

  test('more steel, more rise, or less time never takes less flow, for any fuel', () => {
    fc.assert(
      fc.property(
        anyFuel,
        between(1, 500),
        between(10, 600),
        between(60, 3600),
        between(1.01, 2),
        (fuel, massKg, riseK, burnS, more) => {
          const flow = (m: number, r: number, s: number) =>
            okOf(heatingGas({ fuel, burnS: s, need: { kind: 'steel', massKg: m, riseK: r } }))
          const one = flow(massKg, riseK, burnS)
          expect(flow(massKg * more, riseK, burnS).fuelM3PerS.mean).toBeGreaterThan(
            one.fuelM3PerS.mean,
          )
          expect(flow(massKg, riseK * more, burnS).oxygenKg.mean).toBeGreaterThan(one.oxygenKg.mean)
          expect(flow(massKg, riseK, burnS * more).fuelM3PerS.mean).toBeLessThan(
            one.fuelM3PerS.mean,
          )
          expect(one.fuelKg.low90).toBeGreaterThanOrEqual(0)
          expect(one.fuelKg.high90).toBeGreaterThan(one.fuelKg.mean)
        },
      ),
      { numRuns: 100 },
    )
  })

  test.each([
    [{ kind: 'steel' as const, massKg: 0, riseK: 100 }, 'need.massKg'],
    [{ kind: 'steel' as const, massKg: 1, riseK: 1500 }, 'need.riseK'],
    [{ kind: 'heat' as const, intoWorkW: Number.NaN }, 'need.intoWorkW'],
    [{ kind: 'flow' as const, fuelM3PerS: -1 }, 'need.fuelM3PerS'],
  ])('refuses %j', (need, field) => {
    expect(heatingGas({ fuel: 'propane', burnS: 60, need })).toMatchObject({
      refusals: [{ code: 'OUT_OF_RANGE', field }],
    })
  })
})

describe('welding, brazing and gouging', () => {
  const work = {
    work: 'brazing' as const,
    fuel: 'acetylene' as const,
    fuelM3PerS: 10 * ft3PerH,
    time: { burnS: 600 },
  }

  test('oxygen without its own flow is the fuel’s times the torch ratio', () => {
    const outcome = okOf(flameWork(work))
    const ratio = gasKgFromM3('oxygen', 1) / gasKgFromM3('acetylene', 1)
    expect(outcome.oxygenKg.mean / outcome.fuelKg.mean / ratio).toBeCloseTo(1.175, 9)
    expect(outcome.oxygenKg.source.formulaCode).toBe('flameWorkOxygenByRatio')
  })

  test('gouging without the jet’s oxygen is refused: no figure was published', () => {
    expect(flameWork({ ...work, work: 'gouging' })).toMatchObject({
      refusals: [{ code: 'NO_PUBLISHED_FIGURE', field: 'oxygenM3PerS' }],
    })
  })

  test('a joint takes its volume of rod and what is lost', () => {
    const filler = { kind: 'joint' as const, volumeM3: 1e-6, densityKgPerM3: 8500, lossShare: 0.2 }
    expect(okOf(flameWork({ ...work, filler })).fillerKg?.mean).toBeCloseTo(0.0085 / 0.8, 9)
  })

  test('a gouged groove weighs its section times its length', () => {
    const outcome = okOf(
      flameWork({
        ...work,
        work: 'gouging',
        oxygenM3PerS: 100 * ft3PerH,
        time: { lengthM: 2, speedMPerS: 0.01, passes: 3 },
        grooveAreaM2: 1e-4,
      }),
    )
    expect(outcome.removedKg?.mean).toBeCloseTo(1.57, 9)
    expect(outcome.burnS.mean).toBeCloseTo(600, 9)
  })

  test('gas grows with length and passes and does not depend on how the time is said', () => {
    fc.assert(
      fc.property(
        between(0.1, 100),
        between(0.001, 0.1),
        fc.integer({ min: 1, max: 9 }),
        (lengthM, speedMPerS, passes) => {
          const by = (time: Parameters<typeof flameWork>[0]['time']) =>
            okOf(flameWork({ ...work, time }))
          const laid = by({ lengthM, speedMPerS, passes })
          const said = by({ burnS: (lengthM * passes) / speedMPerS })
          expect(Math.abs(laid.fuelKg.mean / said.fuelKg.mean - 1)).toBeLessThan(1e-12)
          expect(by({ lengthM, speedMPerS, passes: passes + 1 }).fuelKg.mean).toBeGreaterThan(
            laid.fuelKg.mean,
          )
          expect(
            by({ lengthM: 2 * lengthM, speedMPerS, passes }).fuelKg.mean / laid.fuelKg.mean,
          ).toBeCloseTo(2, 9)
        },
      ),
      { numRuns: 100 },
    )
  })
})

describe('shielding gas', () => {
  const weld = {
    process: 'mig' as const,
    flowM3PerS: 35 * ft3PerH,
    weld: { kind: 'fillet' as const, legM: 0.006 },
    lengthM: 10,
    overweldShare: 0,
    deposit: { kind: 'rate' as const, kgPerS: 3 / 3600 },
  }

  test('a 6 mm fillet of 10 m is 1.413 kg, 28 minutes of arc at 3 kg/h', () => {
    const outcome = okOf(shieldingGas(weld))
    expect(outcome.depositKg.mean).toBeCloseTo(1.413, 9)
    expect(outcome.arcS.mean).toBeCloseTo((1.413 / 3) * 3600, 6)
    expect(outcome.gasM3.mean).toBeCloseTo(35 * ft3PerH * outcome.arcS.mean, 9)
    expect(outcome.wireKg.mean).toBeCloseTo(1.413 / 0.95, 9)
  })

  test('a solid wire lays down its own section times its feed', () => {
    const deposit = { kind: 'wire' as const, diameterM: 0.0012, feedMPerS: 8 / 60 }
    const outcome = okOf(shieldingGas({ ...weld, deposit }))
    const kgPerS = (Math.PI / 4) * 0.0012 ** 2 * (8 / 60) * 7850
    expect(outcome.arcS.mean).toBeCloseTo(1.413 / 0.95 / kgPerS, 6)
  })

  test('a cored wire asks for its own rate', () => {
    const deposit = { kind: 'wire' as const, diameterM: 0.0012, feedMPerS: 0.1 }
    expect(shieldingGas({ ...weld, process: 'fluxCored', deposit })).toMatchObject({
      refusals: [{ code: 'NO_PUBLISHED_FIGURE', because: 'coredWireIsNotSolid' }],
    })
  })

  test('gas before and after each arc counts, and cylinders follow the high end', () => {
    const calm = okOf(shieldingGas(weld))
    const many = okOf(shieldingGas({ ...weld, starts: 200, preAndPostFlowS: 6, cylinderM3: 0.5 }))
    expect(many.gasM3.mean - calm.gasM3.mean).toBeCloseTo(35 * ft3PerH * 1200, 9)
    expect(many.cylinders).toBe(Math.ceil(many.gasM3.high90 / 0.5))
    expect(calm.cylinders).toBeNull()
  })

  test('a larger leg or a longer weld never takes less, and a leg counts squared', () => {
    fc.assert(
      fc.property(between(0.002, 0.02), between(0.1, 500), (legM, lengthM) => {
        const at = (leg: number, length: number) =>
          okOf(shieldingGas({ ...weld, weld: { kind: 'fillet', legM: leg }, lengthM: length }))
        const one = at(legM, lengthM)
        expect(at(2 * legM, lengthM).depositKg.mean / one.depositKg.mean).toBeCloseTo(4, 9)
        expect(at(legM, 3 * lengthM).gasM3.mean / one.gasM3.mean).toBeCloseTo(3, 9)
        expect(one.gasM3.low90).toBeGreaterThanOrEqual(0)
        expect(one.clockS.mean).toBeGreaterThanOrEqual(one.arcS.mean)
      }),
      { numRuns: 100 },
    )
  })

  test('refuses what cannot be, every field at once', () => {
    const outcome = shieldingGas({
      ...weld,
      lengthM: 0,
      flowM3PerS: Number.NaN,
      operatingFactor: 2,
    })
    expect(outcome.ok ? [] : outcome.refusals.map(({ field }) => field)).toEqual([
      'flowM3PerS',
      'lengthM',
      'operatingFactor',
    ])
  })
})

describe('run time', () => {
  const size = { gas: 'oxygen' as const, nominalKg: 9.2, waterVolumeL: 43 }
  const reading = { kind: 'gauge' as const, gaugePressureKpa: 10_000, temperatureK: 290 }
  const known = { size, reading, drawM3PerS: 50 * ft3PerH, changeAt: { gaugePressureKpa: 1000 } }

  test('twice the cylinders last twice as long, and the torch out between cuts stretches it', () => {
    const one = okOf(runTime(known))
    const two = okOf(runTime({ ...known, cylinders: 2, operatingFactor: 0.25 }))
    expect(two.burnS.middle / one.burnS.middle).toBeCloseTo(2, 9)
    expect(two.clockS.middle / two.burnS.middle).toBeCloseTo(4, 9)
  })

  test('the middle is usable gas over draw', () => {
    const outcome = okOf(runTime(known))
    const kgPerS = gasKgFromM3('oxygen', 50 * ft3PerH)
    expect(outcome.burnS.middle).toBeCloseTo(outcome.usableKg.mean / kgPerS, 6)
    expect(outcome.usableKg.mean).toBeCloseTo(outcome.contents.gasKg - outcome.reserveKg, 12)
  })

  test('a full cylinder never runs shorter, and the reserve never lengthens it', () => {
    fc.assert(
      fc.property(
        between(2000, 14_000),
        between(100, 1000),
        between(0, 1500),
        between(100, 400),
        (kpa, more, change, deeper) => {
          const at = (gaugePressureKpa: number, changeKpa: number) =>
            okOf(
              runTime({
                ...known,
                reading: { ...reading, gaugePressureKpa },
                changeAt: { gaugePressureKpa: changeKpa },
              }),
            ).burnS
          const one = at(kpa, change)
          expect(at(kpa + more, change).middle).toBeGreaterThan(one.middle)
          expect(at(kpa, change + deeper).middle).toBeLessThan(one.middle)
          expect(one.low90).toBeLessThanOrEqual(one.middle)
          expect(one.high90 ?? Infinity).toBeGreaterThanOrEqual(one.middle)
        },
      ),
      { numRuns: 100 },
    )
  })

  test('a change pressure outside the gauge’s fit is refused by its own name', () => {
    const outcome = runTime({ ...known, changeAt: { gaugePressureKpa: 90_000 } })
    expect(outcome).toMatchObject({ refusals: [{ field: 'changeAt.gaugePressureKpa' }] })
  })
})

describe('a manifold', () => {
  const known = {
    gas: 'acetylene' as const,
    nominalKg: gasKgFromFt3('acetylene', 300),
    drawM3PerS: 60 * ft3PerH,
    place: 'outdoors' as const,
  }

  test('more draw, longer burning or continuous use never take fewer cylinders', () => {
    fc.assert(
      fc.property(between(1, 500), between(0, 100), between(60, 36_000), (draw, more, burnS) => {
        const count = (flow: number, pattern: 'intermittent' | 'continuous') =>
          okOf(manifold({ ...known, drawM3PerS: flow * ft3PerH, pattern, burnS })).cylinders
        expect(count(draw + more, 'intermittent')).toBeGreaterThanOrEqual(
          count(draw, 'intermittent'),
        )
        expect(count(draw, 'continuous')).toBeGreaterThanOrEqual(count(draw, 'intermittent'))
      }),
      { numRuns: 100 },
    )
  })

  test('what is left counts, and what stays below the change does not', () => {
    const whole = okOf(manifold({ ...known, burnS: 36_000 }))
    const left = okOf(
      manifold({ ...known, burnS: 36_000, remainingKg: known.nominalKg / 2, reserveKg: 1 }),
    )
    expect(left.byAmount ?? 0).toBeGreaterThan(2 * (whole.byAmount ?? 0))
  })

  test('each count stands within its interval, and tells what its doubt is made of', () => {
    fc.assert(
      fc.property(between(1, 500), between(60, 36_000), (draw, burnS) => {
        const found = okOf(
          manifold({
            ...known,
            drawM3PerS: draw * ft3PerH,
            burnS,
            remainingKg: known.nominalKg * 0.7,
            remainingStandardUncertaintyKg: known.nominalKg * 0.02,
          }),
        )
        for (const needed of [found.neededByDraw, found.neededByAmount]) {
          expect(needed?.low90).toBeLessThan(needed?.mean ?? 0)
          expect(needed?.high90).toBeGreaterThan(needed?.mean ?? 0)
        }
        expect(found.neededByAmount?.chain.map(({ code }) => code)).toEqual([
          'drawM3PerS',
          'remainingKg',
        ])
      }),
      { numRuns: 50 },
    )
  })

  test('gases without a published draw count by amount alone', () => {
    const outcome = okOf(manifold({ ...known, gas: 'propylene', nominalKg: 45, burnS: 3600 }))
    expect(outcome.byDraw).toBeNull()
    expect(outcome.byAmount).toBe(1)
  })

  test('propane by its vapour, and outside its table refused', () => {
    const propane = { ...known, gas: 'propane' as const, nominalKg: 100 * UNITS.lb.toBase }
    expect(
      okOf(manifold({ ...propane, airTemperatureK: 255.4, drawM3PerS: 100 * ft3PerH })).byDraw,
    ).toBe(3)
    expect(manifold({ ...propane, airTemperatureK: 240 })).toMatchObject({
      refusals: [{ code: 'OUTSIDE_TABLE' }],
    })
  })
})

describe('cost', () => {
  const known = {
    currency: 'USD',
    gas: [
      { code: 'oxygen', quantity: 10, standardUncertainty: 1, unitPriceMinor: 300 },
      { code: 'acetylene', quantity: 3, standardUncertainty: 0.5, unitPriceMinor: 800 },
    ],
    rent: { cylinders: 4, days: 7, perCylinderDayMinor: 40 },
    labour: { hours: 5, standardUncertaintyHours: 1, perHourMinor: 6000, people: 2 },
    consumables: [{ code: 'tip', quantity: 2, unitPriceMinor: 1500 }],
    cuts: 20,
    lengthM: 12,
  }

  test('adds its parts, and spreads them over cuts and metres', () => {
    const outcome = okOf(workCost(known))
    expect(outcome.gasMinor.mean).toBe(5400)
    expect(outcome.rentMinor.mean).toBe(1120)
    expect(outcome.labourMinor.mean).toBe(60_000)
    expect(outcome.consumablesMinor.mean).toBe(3000)
    expect(outcome.totalMinor.mean).toBe(69_520)
    expect(outcome.perCutMinor?.mean).toBe(3476)
    expect(outcome.perMetreMinor?.mean).toBeCloseTo(69_520 / 12, 9)
    expect(outcome.gasMinor.standardUncertainty).toBeCloseTo(Math.hypot(300, 400), 9)
    expect(outcome.totalMinor.standardUncertainty).toBeCloseTo(Math.hypot(300, 400, 12_000), 6)
  })

  test('grows with every quantity and price, and scales with all prices', () => {
    fc.assert(
      fc.property(
        between(0.001, 1000),
        between(0.001, 1000),
        between(1.01, 3),
        (quantity, price, more) => {
          const total = (q: number, p: number) =>
            okOf(
              workCost({
                currency: 'USD',
                gas: [{ code: 'oxygen', quantity: q, unitPriceMinor: p }],
              }),
            ).totalMinor.mean
          expect(total(quantity * more, price)).toBeGreaterThanOrEqual(total(quantity, price))
          expect(
            Math.abs(total(quantity, price * more) - more * total(quantity, price)),
          ).toBeLessThanOrEqual(1e-12 * more * total(quantity, price))
        },
      ),
      { numRuns: 100 },
    )
  })

  test('refuses a negative price by its path', () => {
    const gas = [{ code: 'oxygen', quantity: 1, unitPriceMinor: -1 }]
    expect(workCost({ ...known, gas, cuts: 0 })).toMatchObject({
      refusals: [
        { code: 'OUT_OF_RANGE', field: 'gas.0.unitPriceMinor', value: -1 },
        { code: 'OUT_OF_RANGE', field: 'cuts', value: 0 },
      ],
    })
  })
})

test('oxygen for a fuel grows with the fuel and is never more from the torch than in all', () => {
  fc.assert(
    fc.property(anyFuel, between(0, 1000), (fuel, fuelM3) => {
      const outcome = okOf(combustionOxygen({ fuel, fuelM3 }))
      expect(outcome.torchM3.mean).toBeLessThanOrEqual(outcome.completeM3.mean)
      expect(outcome.torchM3.low90).toBeGreaterThanOrEqual(0)
    }),
    { numRuns: 100 },
  )
})
