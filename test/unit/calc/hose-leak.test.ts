import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { GAS_CODES } from '@/lib/calc/gas-data'
import { type HoseInput, hoseSetting, longestHoseM } from '@/lib/calc/hose'
import { hoseStartAbsKpa } from '@/lib/calc/hose-loss'
import { leakTest, regulatorCreep } from '@/lib/calc/leak-test'
import { HOSE_BORE_CODES } from '@/lib/calc/tables/hoses'
import { gaugeKpaFromPsig, UNITS } from '@/lib/calc/units'

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const ft3PerH = UNITS['ft3/h'].toBase
const ft = UNITS.ft.toBase
const psi = gaugeKpaFromPsig
const okOf = <T extends { ok: boolean }>(outcome: T) => {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome))
  return outcome as Extract<T, { ok: true }>
}

const acetylene: HoseInput = {
  gas: 'acetylene',
  flowM3PerS: 20 * ft3PerH,
  bore: 'quarter',
  lengthM: 50 * ft,
  tipGaugePressureKpa: psi(5),
}
const oxygen: HoseInput = {
  gas: 'oxygen',
  flowM3PerS: 150 * ft3PerH,
  bore: 'quarter',
  lengthM: 100 * ft,
  tipGaugePressureKpa: psi(40),
}

describe('regulator setting', () => {
  test('is what the tip wants and what the hose and the stated losses take', () => {
    const bare = okOf(hoseSetting(oxygen))
    const fitted = okOf(hoseSetting({ ...oxygen, lossesAtRegulatorKpa: 10 }))
    expect(bare.regulatorGaugePressureKpa.mean).toBeCloseTo(psi(40) + bare.hoseLossKpa.mean, 9)
    expect(bare.hoseLossKpa.mean).toBeGreaterThan(psi(2))
    expect(bare.hoseLossKpa.mean).toBeLessThan(psi(30))
    expect(fitted.regulatorGaugePressureKpa.mean - bare.regulatorGaugePressureKpa.mean).toBeCloseTo(
      10,
      9,
    )
    expect(bare.regulatorGaugePressureKpa.source.formulaCode).toBe('regulatorSetting')
  })

  test('no flow loses nothing', () => {
    const still = okOf(hoseSetting({ ...oxygen, flowM3PerS: 0 }))
    expect(still.hoseLossKpa.mean).toBe(0)
    expect(still.regulatorGaugePressureKpa.mean).toBeCloseTo(psi(40), 9)
  })

  // The textbook form for a loss that is small beside the pressure: half of rho v² f L / D. Blasius is for a perfectly
  // smooth tube and good to 4 %; the hose's slight roughness adds to that.
  test('a small loss is that of an incompressible gas', () => {
    const flow = {
      gas: 'oxygen' as const,
      flowM3PerS: 40 * ft3PerH,
      boreM: 0.009_525,
      lengthM: 10,
      temperatureK: 294.2611,
      frictionFactor: 1,
    }
    const end = 400
    const start = hoseStartAbsKpa(flow, end) ?? 0
    const density = (1.326_14 * end) / 101.325
    const speed = (flow.flowM3PerS * 1.326_14) / density / ((Math.PI / 4) * flow.boreM ** 2)
    const reynolds = (density * speed * flow.boreM) / 20.31e-6
    const blasius = 0.316 / reynolds ** 0.25
    const lossKpa = (blasius * (flow.lengthM / flow.boreM) * density * speed ** 2) / 2 / 1000
    expect(Math.abs((start - end) / lossKpa - 1)).toBeLessThan(0.09)
  })
})

describe('acetylene never above 15 psig', () => {
  const long = { ...acetylene, flowM3PerS: 80 * ft3PerH, lengthM: 100, tipGaugePressureKpa: psi(8) }

  test('a hose that would need more is refused with the longest and the next bore that works', () => {
    const outcome = hoseSetting(long)
    expect(outcome).toMatchObject({
      ok: false,
      refusals: [
        { code: 'ACETYLENE_ABOVE_15_PSIG', field: 'lengthM', because: 'pressureLostInHose' },
      ],
    })
    const refusal = outcome.ok ? null : outcome.refusals[0]
    const bore = refusal?.instead?.find((one) => one.startsWith('bore:'))?.slice(5)
    const known = HOSE_BORE_CODES.find((one) => one === bore)
    if (!known) throw new Error('no bore named')
    expect(hoseSetting({ ...long, bore: known }).ok).toBe(true)
    const longest = refusal?.limit?.max ?? 0
    expect(longest).toBeGreaterThan(1)
    expect(hoseSetting({ ...long, lengthM: longest }).ok).toBe(true)
    expect(hoseSetting({ ...long, lengthM: longest * 1.01 }).ok).toBe(false)
  })

  test('no setting that is given lies above it, whatever is asked', () => {
    const bore = fc.constantFrom(...HOSE_BORE_CODES)
    fc.assert(
      fc.property(
        bore,
        between(0, 150),
        between(0, 200),
        between(0, 120),
        between(0, 40),
        (which, lengthM, flow, tip, losses) => {
          const outcome = hoseSetting({
            ...acetylene,
            bore: which,
            lengthM,
            flowM3PerS: flow * ft3PerH,
            tipGaugePressureKpa: tip,
            lossesAtRegulatorKpa: losses,
            lossesAtTorchKpa: losses / 2,
          })
          if (outcome.ok) {
            expect(outcome.regulatorGaugePressureKpa.mean).toBeLessThanOrEqual(psi(15) * (1 + 1e-8))
          } else {
            expect(outcome.refusals.map(({ code }) => code)).toEqual(['ACETYLENE_ABOVE_15_PSIG'])
          }
        },
      ),
      { numRuns: 200 },
    )
  })

  test('a tip that wants more than 15 psig has no hose', () => {
    const outcome = hoseSetting({ ...acetylene, tipGaugePressureKpa: psi(16) })
    expect(outcome).toMatchObject({
      refusals: [{ code: 'ACETYLENE_ABOVE_15_PSIG', limit: { max: 0 }, instead: ['lessFlow'] }],
    })
    expect(longestHoseM({ ...acetylene, tipGaugePressureKpa: psi(16) }, 'half')).toBeNull()
  })
})

describe('any gas in any hose', () => {
  const any = fc.record({
    gas: fc.constantFrom(...GAS_CODES),
    flow: between(1, 60),
    bore: fc.constantFrom('threeSixteenths' as const, 'quarter' as const, 'threeEighths' as const),
    lengthM: between(1, 30),
    endAbsKpa: between(110, 600),
  })
  const startOf = (known: {
    gas: (typeof GAS_CODES)[number]
    flow: number
    boreM: number
    lengthM: number
    endAbsKpa: number
  }) =>
    hoseStartAbsKpa(
      {
        gas: known.gas,
        flowM3PerS: known.flow * ft3PerH,
        boreM: known.boreM,
        lengthM: known.lengthM,
        temperatureK: 290,
        frictionFactor: 1.1,
      },
      known.endAbsKpa,
    )
  const bores = { threeSixteenths: 0.004_7625, quarter: 0.006_35, threeEighths: 0.009_525 }

  test('more flow or length loses more, a wider bore loses less, and nothing is NaN', () => {
    fc.assert(
      fc.property(any, between(1.05, 2), (known, more) => {
        const boreM = bores[known.bore]
        const start = startOf({ ...known, boreM })
        if (start === null) return
        expect(Number.isFinite(start)).toBe(true)
        expect(start).toBeGreaterThan(known.endAbsKpa)
        expect(
          startOf({ ...known, boreM, lengthM: known.lengthM * more }) ?? Infinity,
        ).toBeGreaterThan(start)
        expect(startOf({ ...known, boreM: boreM * more }) ?? Infinity).toBeLessThan(start)
        // Loss may fall where laminar flow turns turbulent only in the friction factor, never in all.
        expect(startOf({ ...known, boreM, flow: known.flow * more }) ?? Infinity).toBeGreaterThan(
          start,
        )
      }),
      { numRuns: 200 },
    )
  })

  test('two hoses end to end lose what one of their length does', () => {
    fc.assert(
      fc.property(any, between(0.1, 0.9), (known, share) => {
        const boreM = bores[known.bore]
        const whole = startOf({ ...known, boreM })
        const middle = startOf({ ...known, boreM, lengthM: known.lengthM * (1 - share) })
        if (whole === null || middle === null) return
        const parts = startOf({
          ...known,
          boreM,
          lengthM: known.lengthM * share,
          endAbsKpa: middle,
        })
        expect(Math.abs((parts ?? 0) / whole - 1)).toBeLessThan(1e-9)
      }),
      { numRuns: 200 },
    )
  })

  test('a flow that would choke is refused, not computed', () => {
    expect(
      startOf({ gas: 'oxygen', flow: 20_000, boreM: 0.003, lengthM: 10, endAbsKpa: 110 }),
    ).toBeNull()
    const outcome = hoseSetting({ ...oxygen, flowM3PerS: 20_000 * ft3PerH, bore: 'eighth' })
    expect(outcome).toMatchObject({ refusals: [{ code: 'HOSE_CANNOT_CARRY' }] })
  })

  test.each([
    [{ lengthM: -1 }, 'lengthM'],
    [{ flowM3PerS: Number.NaN }, 'flowM3PerS'],
    [{ tipGaugePressureKpa: 5000 }, 'tipGaugePressureKpa'],
    [{ temperatureK: 100 }, 'temperatureK'],
  ])('%j is refused', (wrong, field) => {
    expect(hoseSetting({ ...oxygen, ...wrong })).toMatchObject({
      refusals: [{ code: 'OUT_OF_RANGE', field }],
    })
  })
})

describe('leak test', () => {
  const held = {
    gas: 'oxygen' as const,
    hoses: [{ bore: 'quarter' as const, lengthM: 15 }],
    startGaugePressureKpa: 300,
    endGaugePressureKpa: 300,
    elapsedS: 300,
    resolutionKpa: 5,
  }

  test.each([
    [300, 'noFallSeen'],
    [296, 'noFallSeen'],
    [295, 'outOfService'],
    [280, 'outOfService'],
    [306, 'pressureRose'],
  ])('300 kPa that became %d is %s', (end, verdict) => {
    expect(okOf(leakTest({ ...held, endGaugePressureKpa: end })).verdict).toBe(verdict)
  })

  test('a fall that the cold explains condemns nothing, and one that warmth hides is found', () => {
    const cooled = { startTemperatureK: 300, endTemperatureK: 294 }
    const explained = 401.325 * (294 / 300) - 101.325
    expect(okOf(leakTest({ ...held, ...cooled, endGaugePressureKpa: explained })).verdict).toBe(
      'noFallSeen',
    )
    const warmed = { startTemperatureK: 294, endTemperatureK: 300 }
    expect(okOf(leakTest({ ...held, ...warmed })).verdict).toBe('outOfService')
  })

  test('a leak costs what it loses in 30 days, for information', () => {
    const outcome = okOf(leakTest({ ...held, endGaugePressureKpa: 280, priceMinorPerKg: 400 }))
    const kg = outcome.leakM3PerS.mean * 30 * 86_400 * 1.326_14
    expect(outcome.perMonthKg.mean).toBeCloseTo(kg, 9)
    expect(outcome.perMonthMinor?.mean).toBeCloseTo(kg * 400, 6)
    expect(okOf(leakTest(held)).perMonthMinor).toBeNull()
  })

  test('names the smallest leak that could have been seen', () => {
    const outcome = okOf(leakTest({ ...held, endGaugePressureKpa: 295 }))
    expect(outcome.smallestSeenM3PerS / outcome.leakM3PerS.mean).toBeCloseTo(1, 6)
  })

  test('a longer test sees a smaller leak; a larger fall is a larger leak; nothing is NaN', () => {
    fc.assert(
      fc.property(
        between(50, 1000),
        between(0.01, 0.5),
        between(30, 7200),
        between(1.1, 3),
        (kpa, share, elapsedS, more) => {
          const at = (fall: number, s: number) =>
            okOf(
              leakTest({
                ...held,
                startGaugePressureKpa: kpa,
                endGaugePressureKpa: kpa * (1 - fall),
                elapsedS: s,
              }),
            )
          const one = at(share, elapsedS)
          expect(at(share, elapsedS * more).smallestSeenM3PerS).toBeLessThan(one.smallestSeenM3PerS)
          expect(at(Math.min(0.99, share * more), elapsedS).leakM3PerS.mean).toBeGreaterThan(
            one.leakM3PerS.mean,
          )
          expect(one.leakM3PerS.standardUncertainty).toBeGreaterThan(0)
          expect(one.perMonthKg.low90).toBeGreaterThanOrEqual(0)
          if (kpa * share >= 5) expect(one.verdict).toBe('outOfService')
        },
      ),
      { numRuns: 100 },
    )
  })

  test.each([
    [{ resolutionKpa: 0 }, 'resolutionKpa'],
    [{ elapsedS: 0 }, 'elapsedS'],
    [{ startTemperatureK: 300 }, 'endTemperatureK'],
    [{ hoses: [{ bore: 'quarter' as const, lengthM: 0 }] }, 'hoses.0.lengthM'],
  ])('refuses %j', (wrong, field) => {
    expect(leakTest({ ...held, ...wrong })).toMatchObject({ refusals: [{ field }] })
  })
})

describe('regulator creep', () => {
  const held = { startGaugePressureKpa: 200, elapsedS: 300, resolutionKpa: 5 }

  test.each([
    [200, 'noRiseSeen'],
    [204, 'noRiseSeen'],
    [205, 'outOfService'],
    [190, 'pressureFell'],
  ])('200 kPa that became %d is %s', (end, verdict) => {
    expect(okOf(regulatorCreep({ ...held, endGaugePressureKpa: end })).verdict).toBe(verdict)
  })

  test('a rise that warmth explains is not creep', () => {
    const warmed = 301.325 * (300 / 294) - 101.325
    const outcome = regulatorCreep({
      ...held,
      endGaugePressureKpa: warmed,
      startTemperatureK: 294,
      endTemperatureK: 300,
    })
    expect(okOf(outcome)).toMatchObject({ verdict: 'noRiseSeen' })
    expect(okOf(outcome).riseKpa.mean).toBeCloseTo(0, 9)
  })
})
