import { describe, expect, test } from 'vitest'
import { gasKgFromFt3, kelvinFromFahrenheit, UNITS } from '@/lib/calc/units'
import { withdrawal } from '@/lib/calc/withdrawal'
import type { Withdrawal, WithdrawalInput } from '@/lib/calc/withdrawal-types'
import propane from '../../vectors/calc/propane.json'

const ft3PerH = UNITS['ft3/h'].toBase
const allowed = (input: WithdrawalInput): Withdrawal => {
  const outcome = withdrawal(input)
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusals))
  return outcome
}
const acetylene = (
  ft3: number,
  more: Partial<Extract<WithdrawalInput, { gas: 'acetylene' }>> = {},
) => allowed({ gas: 'acetylene', capacityKg: gasKgFromFt3('acetylene', ft3), ...more })
const pounds = (lb: number) => lb * UNITS.lb.toBase

describe('acetylene draw', () => {
  // Manly 1916 (Gutenberg 7969): one seventh of 100 ft³ is printed as 14 ft³/h, rounded down.
  test('a seventh of 100 ft³ is 14 ft³/h', () => {
    expect(
      Math.floor(acetylene(100, { option: 'seventh1916' }).allowedM3PerSPerCylinder / ft3PerH),
    ).toBe(14)
  })

  // 225 ft³: 32 ft³/h at 1/7, 22.5 at 1/10, 15 at 1/15 (CGA G-1, from memory); 50 in Army OD0017.
  test.each([
    ['seventh1916', 'intermittent', 32.14],
    ['tenthIntermittentFifteenthContinuous', 'intermittent', 22.5],
    ['tenthIntermittentFifteenthContinuous', 'continuous', 15],
    ['fiftyCubicFeetPerHour', 'continuous', 50],
  ] as const)('225 ft³ under %s, %s: %d ft³/h', (option, pattern, published) => {
    expect(acetylene(225, { option, pattern }).allowedM3PerSPerCylinder / ft3PerH).toBeCloseTo(
      published,
      2,
    )
  })

  // Army OD0017: more than 50 ft³/h requires a manifold; 50 itself does not.
  test.each([
    [50, 1],
    [50.01, 2],
    [100, 2],
    [0, 1],
  ])('a draw of %d ft³/h under the 50 ft³/h rule takes %d', (draw, cylinders) => {
    const outcome = acetylene(225, { option: 'fiftyCubicFeetPerHour', drawM3PerS: draw * ft3PerH })
    expect(outcome.cylindersOnManifold).toBe(cylinders)
  })

  // Manly’s manifold table, 100 ft³ cylinders: up to 15 ft³/h one, 16-30 two, 31-45 three, 46-60 four, 61-75
  // five. It rounds 14.3 up to 15, so a seventh may ask for one more, and never for fewer.
  test.each([
    [14, 1],
    [28, 2],
    [42, 3],
    [57, 4],
    [71, 5],
  ])('%d ft³/h needs %d cylinders of 100 ft³, as printed', (draw, printed) => {
    expect(
      acetylene(100, { option: 'seventh1916', drawM3PerS: draw * ft3PerH }).cylindersOnManifold,
    ).toBe(printed)
  })

  test('of what is left is stricter than of capacity', () => {
    const left = acetylene(225, {
      remainingKg: gasKgFromFt3('acetylene', 90),
      basis: 'remaining',
      drawM3PerS: 20 * ft3PerH,
    })
    expect(left.allowedM3PerSPerCylinder / ft3PerH).toBeCloseTo(9, 6)
    expect(left.cylindersOnManifold).toBe(3)
  })

  test('a cylinder read as more than full allows no more than a full one', () => {
    const over = acetylene(225, { remainingKg: gasKgFromFt3('acetylene', 300), basis: 'remaining' })
    expect(over.allowedM3PerSPerCylinder).toBe(acetylene(225).allowedM3PerSPerCylinder)
  })

  test('names and dates the rule in its source', () => {
    const inputs = acetylene(225).source.inputs.map(({ name, value }) => [name, value])
    expect(inputs).toContainEqual(['dated', '2009'])
    expect(acetylene(225).source.provenance).toBe('from memory')
  })

  test.each([0, -1, Number.NaN])('refuses a capacity of %d kg', (capacityKg) => {
    expect(withdrawal({ gas: 'acetylene', capacityKg })).toMatchObject({
      refusals: [{ field: 'capacityKg', limit: { above: 0 } }],
    })
  })
})

describe('propane vapour', () => {
  const air = [0, 20, 40, 60, 70]
  const cells = propane.vaporization_100lb_cylinder.rows.flatMap(([lb, ...btu]) =>
    btu.map((value, i) => [lb ?? 0, air[i] ?? 0, value] as const),
  )
  // LP-gas trade table; 2500 Btu/ft³.
  test.each(cells)('%d lb at %d °F gives %d Btu/h', (lb, airF, btuPerH) => {
    const outcome = allowed({
      gas: 'propane',
      capacityKg: pounds(100),
      remainingKg: pounds(lb),
      airTemperatureK: kelvinFromFahrenheit(airF),
    })
    expect((outcome.allowedM3PerSPerCylinder / ft3PerH) * 2500).toBeCloseTo(btuPerH, 3)
  })

  // Vessel formula D x L x K at 0 °F; K by percent full from the same manual.
  test.each(
    Object.entries(propane.vaporization_asme_formula_0F.K).map(([pct, k]) => [
      Number(pct.slice(3)),
      k,
    ]),
  )('a vessel %d %% full has K = %d', (percentFull, k) => {
    const outcome = allowed({
      gas: 'propane',
      capacityKg: 190,
      remainingKg: (190 * percentFull) / ((100 * 0.42) / 0.51) + 1e-9,
      airTemperatureK: kelvinFromFahrenheit(0),
      outsideDiameterM: 30 * 0.0254,
      overallLengthM: 50 * 0.0254,
    })
    expect((outcome.allowedM3PerSPerCylinder / ft3PerH) * 2500).toBeCloseTo(30 * 50 * k, 2)
  })

  // The same manual's planning rule: 50,000 Btu/h from a 100-lb cylinder down to 0 °F. The table gives that from about
  // 40 lb up; below that the rule is too bold: flagged.
  test.each([
    [100, true],
    [50, true],
    [40, true],
    [30, false],
    [10, false],
  ])('%d lb at 0 °F gives the 50,000 Btu/h of the planning rule: %s', (lb, isEnough) => {
    const outcome = allowed({
      gas: 'propane',
      capacityKg: pounds(100),
      remainingKg: pounds(lb),
      airTemperatureK: kelvinFromFahrenheit(0),
    })
    expect((outcome.allowedM3PerSPerCylinder / ft3PerH) * 2500 >= 50_000).toBe(isEnough)
  })

  // LP-gas trade table, from memory: a quarter at −15 °F, a half at −10, ... twice at 20, of what 0 °F gives.
  test.each([
    [-15, 0.25],
    [-10, 0.5],
    [-5, 0.75],
    [0, 1],
    [5, 1.25],
    [10, 1.5],
    [15, 1.75],
    [20, 2],
  ])('a vessel at %d °F gives %d times what it gives at 0 °F', (airF, times) => {
    const at = (f: number) =>
      allowed({
        gas: 'propane',
        capacityKg: 190,
        remainingKg: 100,
        airTemperatureK: kelvinFromFahrenheit(f),
        outsideDiameterM: 0.76,
        overallLengthM: 1.3,
      }).allowedM3PerSPerCylinder
    expect(at(airF) / at(0)).toBeCloseTo(times, 9)
  })

  test.each([
    [{ remainingKg: pounds(9), airTemperatureK: 290 }, 'OUTSIDE_TABLE', 'remainingKg'],
    [{ remainingKg: pounds(50), airTemperatureK: 250 }, 'OUTSIDE_TABLE', 'airTemperatureK'],
    [
      { capacityKg: pounds(20), remainingKg: pounds(9), airTemperatureK: 290 },
      'NO_VAPOUR_TABLE',
      'outsideDiameterM',
    ],
  ])('refuses %j as %s', (input, code, field) => {
    expect(withdrawal({ gas: 'propane', capacityKg: pounds(100), ...input })).toMatchObject({
      refusals: [{ code, field }],
    })
  })

  test('warmer air than the table counts as its last column', () => {
    const at = (airF: number) =>
      allowed({
        gas: 'propane',
        capacityKg: pounds(100),
        remainingKg: pounds(50),
        airTemperatureK: kelvinFromFahrenheit(airF),
      })
    expect(at(100).allowedM3PerSPerCylinder).toBeCloseTo(at(70).allowedM3PerSPerCylinder, 12)
  })
})

describe('the doubt in a draw', () => {
  // JCGM 100:2008 (GUM), 5.1.6, from memory: of a product of powers the relative variances add.
  test('adds the relative doubts of draw and contents in quadrature', () => {
    const capacityKg = gasKgFromFt3('acetylene', 225)
    const remainingKg = capacityKg / 2
    const { allowed: one, needed } = allowed({
      gas: 'acetylene',
      capacityKg,
      remainingKg,
      basis: 'remaining',
      remainingStandardUncertaintyKg: 0.04 * remainingKg,
      drawM3PerS: 40 * ft3PerH,
      drawStandardUncertaintyM3PerS: 0.03 * 40 * ft3PerH,
    })
    expect(one.standardUncertainty / one.mean).toBeCloseTo(0.04, 9)
    expect((needed?.standardUncertainty ?? 0) / (needed?.mean ?? 1)).toBeCloseTo(0.05, 3)
    expect(needed?.chain.map(({ code }) => code)).toEqual(['drawM3PerS', 'baseKg'])
  })

  // Halfway between rows of the table the slope to either side is the table's own.
  test('of propane goes by the slope of the table', () => {
    const at = (airF: number) =>
      allowed({
        gas: 'propane',
        capacityKg: pounds(100),
        remainingKg: pounds(50),
        airTemperatureK: kelvinFromFahrenheit(airF),
        airStandardUncertaintyK: 2,
      })
    const slope = (at(40).allowedM3PerSPerCylinder - at(20).allowedM3PerSPerCylinder) / (20 / 1.8)
    expect(at(30).allowed.standardUncertainty).toBeCloseTo(2 * slope, 12)
  })

  test('of propane at the edge of the table is sought on the side that is left', () => {
    const edge = allowed({
      gas: 'propane',
      capacityKg: pounds(100),
      remainingKg: pounds(10),
      airTemperatureK: kelvinFromFahrenheit(0),
      remainingStandardUncertaintyKg: 1,
    })
    expect(edge.allowed.chain.map(({ contribution }) => contribution > 0)).toEqual([true, true])
  })

  test.each([
    { remainingStandardUncertaintyKg: -1 },
    { drawM3PerS: 1e-3, drawStandardUncertaintyM3PerS: 2e-3 },
  ])('refuses a doubt of %j', (more) => {
    expect(withdrawal({ gas: 'acetylene', capacityKg: 6, ...more })).toMatchObject({
      refusals: [{ code: 'OUT_OF_RANGE' }],
    })
  })
})
