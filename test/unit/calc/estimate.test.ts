import { describe, expect, test } from 'vitest'
import { estimateCutList } from '@/lib/calc/estimate'
import type { CutInput, EstimateInput } from '@/lib/calc/estimate-types'
import { OFC_CARBON_STEEL } from '@/lib/calc/tables/ofc-carbon-steel'
import { gasFt3FromKg, gasKgFromFt3, gaugeKpaFromPsig, UNITS } from '@/lib/calc/units'
import { CALC_VERSION } from '@/lib/calc/version'
import { ACETYLENE_225, cutList, estimated, OXYGEN_244, plateCut } from './estimate-fixtures'

describe('estimateCutList', () => {
  // By hand from the table's half-inch row at weight 0.6: speed 23^0.4 x 12^0.6 in/min, oxygen 55^0.4 x 85^0.6
  // and acetylene 6^0.4 x 12^0.6 ft³/h; 20 m of cut; preheat oxygen 1.175 x acetylene.
  test('a plate cut takes what the row says, worked by hand', () => {
    const minutes = 20 / 0.0254 / (23 ** 0.4 * 12 ** 0.6)
    const { time, oxygen, fuelGas } = estimated(cutList({ idleFlameFraction: 0, lightUps: 0 }))
    expect(time.cuttingS / 60).toBeCloseTo(minutes, 6)
    const jetFt3 = (55 ** 0.4 * 85 ** 0.6 * minutes) / 60
    const flameFt3 = (6 ** 0.4 * 12 ** 0.6 * minutes) / 60
    expect(gasFt3FromKg('oxygen', oxygen.terms.cutting)).toBeCloseTo(jetFt3, 6)
    expect(gasFt3FromKg('acetylene', fuelGas.terms.preheat)).toBeCloseTo(flameFt3, 6)
    expect(gasFt3FromKg('oxygen', oxygen.terms.preheat)).toBeCloseTo(1.175 * flameFt3, 6)
  })

  test('the terms add up to the mean, and the cuts and lighting up to the job', () => {
    const result = estimated(
      cutList({ cuts: [plateCut(), plateCut({ id: 'b', pierced: true })], lightUps: 3 }),
    )
    for (const gas of [result.oxygen, result.fuelGas]) {
      expect(Object.values(gas.terms).reduce((sum, term) => sum + term, 0)).toBeCloseTo(
        gas.mean,
        10,
      )
    }
    const cutsKg = result.cuts.reduce((sum, cut) => sum + cut.oxygenKg.value, 0)
    expect(cutsKg + result.oxygen.terms.lightUp).toBeCloseTo(result.oxygen.mean, 10)
    expect(result.time.lightUps).toBe(3)
    expect(result.calcVersion).toBe(CALC_VERSION)
  })

  test('only cuts still to do are counted', () => {
    const half = estimated(cutList({ cuts: [plateCut({ doneCount: 5 })], lightUps: 0 }))
    const whole = estimated(cutList({ lightUps: 0 }))
    expect(half.oxygen.mean).toBeCloseTo(whole.oxygen.mean / 2, 10)
    const none = estimated(cutList({ cuts: [plateCut({ doneCount: 10 })] }))
    expect(none.oxygen).toMatchObject({ mean: 0, low90: 0, high90: 0 })
    expect(none.notes).toContain('allCutsDone')
  })

  test('a W-shape is two flanges and the web between them', () => {
    const cut: CutInput = {
      ...plateCut(),
      shape: { kind: 'wShape', designation: 'W12x50' },
      piece: { lengthM: 3.048 },
    }
    const [estimate] = estimated(cutList({ cuts: [cut] })).cuts
    expect(
      estimate?.segments.map(({ part, count, lengthM, pathM }) => [
        part,
        count,
        lengthM.value,
        pathM.value,
      ]),
    ).toEqual([
      ['flange', 2, expect.closeTo(8.08 * 0.0254, 9), expect.closeTo(0.64 * 0.0254, 9)],
      ['web', 1, expect.closeTo((12.2 - 1.28) * 0.0254, 9), expect.closeTo(0.37 * 0.0254, 9)],
    ])
    expect(estimate?.pieceKg?.source).toMatchObject({
      tableId: 'astm-a6-w',
      provenance: 'from memory',
    })
  })

  test('round bar is its area cut at full depth, and pipe its mean circle', () => {
    const lengthOf = (shape: CutInput['shape']) =>
      estimated(cutList({ cuts: [plateCut({ shape })] })).cuts[0]?.segments[0]?.lengthM.value
    expect(lengthOf({ kind: 'roundBar', diameterM: 0.1 })).toBeCloseTo(
      (Math.PI * 0.1 ** 2) / 4 / 0.1,
      12,
    )
    expect(lengthOf({ kind: 'pipe', outsideDiameterM: 0.2, wallM: 0.01 })).toBeCloseTo(
      Math.PI * 0.19,
      12,
    )
    expect(lengthOf({ kind: 'flatBar', thicknessM: 0.02, widthM: 0.15 })).toBe(0.15)
    expect(lengthOf({ kind: 'squareBar', sideM: 0.05 })).toBe(0.05)
  })

  test('bevel, position, dirt, piercing, poor oxygen and propane’s flame each take more', () => {
    const oxygenOf = (more: Partial<CutInput>, input: Partial<EstimateInput> = {}) =>
      estimated(cutList({ cuts: [plateCut(more)], lightUps: 1, ...input })).oxygen.mean
    const plain = oxygenOf({})
    expect(oxygenOf({ bevelDeg: 45 })).toBeGreaterThan(plain)
    expect(oxygenOf({ position: 'overhead' })).toBeGreaterThan(plain)
    expect(oxygenOf({ conditions: ['dirty'] })).toBeGreaterThan(plain)
    expect(oxygenOf({ pierced: true })).toBeGreaterThan(plain)
    expect(oxygenOf({}, { oxygenPurityPct: 98.5 })).toBeGreaterThan(plain)
    expect(oxygenOf({}, { fuel: 'propane' })).toBeGreaterThan(plain)
    expect(oxygenOf({ process: 'machine' })).toBeLessThan(plain)
  })

  test('multipliers never pile up above 1.8', () => {
    const cut = plateCut({ position: 'overhead', conditions: ['dirty', 'awkward', 'dirty'] })
    expect(estimated(cutList({ cuts: [cut] })).cuts[0]?.positionMultiplier).toMatchObject({
      value: 1.3 * 1.15 * 1.2,
      source: { provenance: 'common practice' },
    })
  })

  test('a crew whose factor is known is estimated by it, and more narrowly', () => {
    const plain = estimated(cutList())
    const crew = estimated(cutList({ crewFactor: { mean: 1.2, standardUncertainty: 0.05 } }))
    expect(crew.oxygen.mean).toBeCloseTo(1.2 * plain.oxygen.mean, 10)
    expect(crew.oxygen.standardUncertainty / crew.oxygen.mean).toBeLessThan(
      plain.oxygen.standardUncertainty / plain.oxygen.mean,
    )
  })

  test('errors of table and crew are shared by the cuts: two like jobs are no surer than one', () => {
    const one = estimated(cutList({ lightUps: 0 })).oxygen
    const many = estimated(
      cutList({ lightUps: 0, cuts: [1, 2, 3, 4].map((n) => plateCut({ id: String(n) })) }),
    ).oxygen
    const [few, more] = [one.standardUncertainty / one.mean, many.standardUncertainty / many.mean]
    expect(more).toBeLessThan(few)
    expect(more).toBeGreaterThan(0.9 * few)
  })

  test('a lean chart of the shop’s own never takes oxygen below the floor', () => {
    const tipChart = {
      ...OFC_CARBON_STEEL,
      id: 'own',
      provenance: 'entered' as const,
      rows: OFC_CARBON_STEEL.rows.map((row) => ({
        ...row,
        cuttingOxygenFt3PerH: [1, 1.2] as const,
      })),
    }
    const result = estimated(cutList({ tipChart }))
    expect(result.tableId).toBe('own')
    expect(result.oxygen.terms.cutting).toBeCloseTo(result.oxygenFloorKg, 12)
    expect(result.oxygen.low90).toBeGreaterThanOrEqual(result.oxygenFloorKg)
    expect(result.notes).toContain('floorBinds')
    expect(result.notes).not.toContain('tableFromMemory')
  })

  test('the shop’s own chart may be for a metal and a fuel that the table is not for', () => {
    const tipChart = {
      ...OFC_CARBON_STEEL,
      id: 'own',
      materials: ['stainless_steel'],
      rows: OFC_CARBON_STEEL.rows.map((row) => ({
        ...row,
        fuelFt3PerH: { propylene: [5, 9] as const },
      })),
    }
    const cuts = [plateCut({ material: 'stainless_steel' })]
    expect(estimateCutList({ fuel: 'propylene', cuts, tipChart }).ok).toBe(true)
  })

  test('every number carries where it comes from', () => {
    const segment = estimated(cutList()).cuts[0]?.segments[0]
    expect(segment?.speedMPerS.source).toMatchObject({
      tableId: 'ofc-carbon-steel-us-handbook',
      provenance: 'from memory',
    })
    expect(segment?.preheatOxygenM3PerS.source.inputs.map((input) => input.name)).toEqual([
      'fuelM3PerS',
      'ratio',
    ])
    expect(estimated(cutList()).oxygen.source).toMatchObject({
      formulaCode: 'gasOfJob',
      provenance: 'from memory',
    })
  })
})

describe('supply for a cut list', () => {
  const sized = cutList({
    cuts: [plateCut({ count: 100 })],
    oxygenSize: OXYGEN_244,
    fuelSize: ACETYLENE_225,
    prices: {
      currency: 'USD',
      oxygenCylinderMinor: 3000,
      fuelCylinderMinor: 6000,
      crewHourMinor: 9000,
    },
  })

  // 150 psig leaves 11.9 ft³ at 100 psig and 24.5 at 220 (contents table), so about 17.2; usable is 226.8 of 244.
  test('oxygen is changed at 150 psig, which leaves about 17 ft³ in', () => {
    const oxygen = estimated(sized).supply.oxygen
    expect(gasFt3FromKg('oxygen', oxygen?.changeAtRemainingKg ?? 0)).toBeCloseTo(17.2, 0)
    expect(oxygen?.changeAtGaugeKpa).toBeCloseTo(gaugeKpaFromPsig(150), 9)
  })

  test('cylinders cover the high end of what is short, whole', () => {
    const { oxygen, supply } = estimated(sized)
    const usable = supply.oxygen?.usableKgPerCylinder.value ?? 0
    expect(supply.oxygen?.cylindersInAll).toBe(Math.ceil(oxygen.high90 / usable))
    const some = estimated({ ...sized, onHand: { oxygenKg: 3 * usable } }).supply.oxygen
    expect(some?.cylindersToOrder).toBe((supply.oxygen?.cylindersInAll ?? 0) - 3)
    const plenty = estimated({ ...sized, onHand: { oxygenKg: 1e6 } }).supply.oxygen
    expect(plenty).toMatchObject({ shortKg: 0, cylindersToOrder: 0 })
  })

  test('a cylinder lasts its usable gas at the mean draw', () => {
    const { oxygen, supply, time } = estimated(sized)
    const lasts = supply.oxygen?.torchSecondsPerCylinder ?? 0
    expect((lasts / time.torchS) * oxygen.mean).toBeCloseTo(
      supply.oxygen?.usableKgPerCylinder.value ?? 0,
      9,
    )
  })

  // The rich end at half an inch is 12 ft³/h; a 225 ft³ cylinder allows 22.5 (1/10), two torches need 24.
  test('the manifold follows the draw of all torches at the rich end', () => {
    expect(estimated(sized).withdrawal).toMatchObject({ ok: true, cylindersOnManifold: 1 })
    expect(estimated({ ...sized, torches: 2 }).withdrawal).toMatchObject({
      ok: true,
      cylindersOnManifold: 2,
    })
    const strict = estimated({ ...sized, acetyleneDraw: { basis: 'remaining' } }).withdrawal
    expect(strict).toMatchObject({ cylindersOnManifold: Math.ceil(12 / 2.25) })
  })

  test('propane of 100 lb is checked against its vapour, other sizes are refused plainly', () => {
    const propane = (lb: number) =>
      estimated({
        ...sized,
        fuel: 'propane',
        fuelSize: { gas: 'propane', nominalKg: lb * UNITS.lb.toBase },
      }).withdrawal
    expect(propane(100)).toMatchObject({ ok: true, cylindersOnManifold: 1 })
    expect(propane(20)).toMatchObject({ ok: false, refusals: [{ code: 'NO_VAPOUR_TABLE' }] })
  })

  test('natural gas is piped: no cylinders', () => {
    const result = estimated(cutList({ fuel: 'natural_gas' }))
    expect(result).toMatchObject({ supply: { fuel: null }, withdrawal: null })
    expect(result.notes).toContain('pipedGas')
  })

  test('cost is gas used by its share of a cylinder, crew by the hour, and the order whole', () => {
    const { cost, oxygen, supply, time } = estimated(sized)
    expect(cost?.usedMinor.oxygen?.mean).toBeCloseTo(
      (oxygen.mean / gasKgFromFt3('oxygen', 244)) * 3000,
      6,
    )
    expect(cost?.usedMinor.crew).toBeCloseTo((time.elapsedS / 3600) * 9000, 6)
    expect(cost?.orderMinor).toBe(
      (supply.oxygen?.cylindersToOrder ?? 0) * 3000 + (supply.fuel?.cylindersToOrder ?? 0) * 6000,
    )
  })
})

describe('refusals of a cut list', () => {
  const refusalsOf = (input: EstimateInput) => {
    const outcome = estimateCutList(input)
    return outcome.ok ? [] : outcome.refusals
  }

  test.each([
    ['cast_iron', 'oxideMeltsAboveMetal', 'abrasiveSaw'],
    ['stainless_steel', 'chromiumOxideShields', 'plasma'],
    ['aluminium', 'oxideMeltsAboveMetal', 'plasma'],
    ['copper', 'heatRunsAway', 'saw'],
  ])('%s is not flame-cut: %s, so %s', (material, because, instead) => {
    expect(refusalsOf(cutList({ cuts: [plateCut({ material })] }))).toMatchObject([
      {
        code: 'MATERIAL_NOT_FLAME_CUT',
        field: 'cuts.0.material',
        value: material,
        because,
        instead: expect.arrayContaining([instead]),
      },
    ])
  })

  test.each<[Partial<CutInput>, string, string]>([
    [{ material: 'unobtainium' }, 'UNKNOWN_MATERIAL', 'cuts.0.material'],
    [
      { shape: { kind: 'plate', thicknessM: 0.0127, lengthM: 0 } },
      'OUT_OF_RANGE',
      'cuts.0.shape.lengthM',
    ],
    [
      { shape: { kind: 'plate', thicknessM: 0.0127, lengthM: -2 } },
      'OUT_OF_RANGE',
      'cuts.0.shape.lengthM',
    ],
    [
      { shape: { kind: 'plate', thicknessM: Number.NaN, lengthM: 1 } },
      'OUT_OF_RANGE',
      'cuts.0.shape.thicknessM',
    ],
    [
      { shape: { kind: 'plate', thicknessM: 0.003, lengthM: 1 } },
      'OUTSIDE_TABLE',
      'cuts.0.shape.thicknessM',
    ],
    [
      { shape: { kind: 'plate', thicknessM: 0.31, lengthM: 1 } },
      'OUTSIDE_TABLE',
      'cuts.0.shape.thicknessM',
    ],
    [
      { shape: { kind: 'plate', thicknessM: 0.29, lengthM: 1 }, bevelDeg: 45 },
      'OUTSIDE_TABLE',
      'cuts.0.shape.thicknessM',
    ],
    [
      { shape: { kind: 'pipe', outsideDiameterM: 0.1, wallM: 0.06 } },
      'OUT_OF_RANGE',
      'cuts.0.shape.wallM',
    ],
    [
      { shape: { kind: 'wShape', designation: 'W99x999' } },
      'UNKNOWN_SECTION',
      'cuts.0.shape.designation',
    ],
    [
      { shape: { kind: 'wShape', designation: 'constructor' } },
      'UNKNOWN_SECTION',
      'cuts.0.shape.designation',
    ],
    [{ bevelDeg: 61 }, 'OUT_OF_RANGE', 'cuts.0.bevelDeg'],
    [{ count: 0 }, 'OUT_OF_RANGE', 'cuts.0.count'],
    [{ count: 1.5 }, 'OUT_OF_RANGE', 'cuts.0.count'],
    [{ doneCount: 11 }, 'OUT_OF_RANGE', 'cuts.0.doneCount'],
    [{ piece: { lengthM: 0 } }, 'OUT_OF_RANGE', 'cuts.0.piece.lengthM'],
  ])('%j is refused as %s on %s', (more, code, field) => {
    const [refusal, ...rest] = refusalsOf(cutList({ cuts: [plateCut(more)] }))
    expect(refusal).toMatchObject({ code, field })
    expect(refusal?.limit).not.toBeNull()
    expect(rest).toEqual([])
  })

  test('the whole table, edges included, is inside', () => {
    for (const thicknessIn of [0.125, 12]) {
      const shape = { kind: 'plate', thicknessM: thicknessIn * 0.0254, lengthM: 1 } as const
      expect(refusalsOf(cutList({ cuts: [plateCut({ shape })] }))).toEqual([])
    }
  })

  test.each<[Partial<EstimateInput>, string, string]>([
    [{ fuel: 'wood' }, 'UNKNOWN_FUEL', 'fuel'],
    [{ fuel: 'mps' }, 'FUEL_NOT_IN_TABLE', 'fuel'],
    [{ cuts: [] }, 'NO_CUTS', 'cuts'],
    [{ oxygenPurityPct: 94.9 }, 'PURITY_TOO_LOW', 'oxygenPurityPct'],
    [{ torches: 0 }, 'OUT_OF_RANGE', 'torches'],
    [{ operatingFactor: 0 }, 'OUT_OF_RANGE', 'operatingFactor'],
    [{ crewFactor: { mean: 0, standardUncertainty: 0.1 } }, 'OUT_OF_RANGE', 'crewFactor.mean'],
    [{ oxygenSize: { gas: 'oxygen', nominalKg: 9 } }, 'SIZE_INCOMPLETE', 'oxygenSize.waterVolumeL'],
    [
      { oxygenSize: { ...OXYGEN_244, changeAtGaugePressureKpa: 16_000 } },
      'OUT_OF_RANGE',
      'oxygenSize.nominalKg',
    ],
    [{ fuelSize: OXYGEN_244 }, 'UNKNOWN_GAS', 'fuelSize.gas'],
  ])('%j is refused as %s on %s', (more, code, field) => {
    expect(refusalsOf(cutList(more))).toContainEqual(expect.objectContaining({ code, field }))
  })

  test('every reason comes at once', () => {
    const cuts = [plateCut({ material: 'copper' }), plateCut({ count: 0 })]
    expect(refusalsOf(cutList({ fuel: 'wood', cuts })).map((refusal) => refusal.field)).toEqual([
      'fuel',
      'cuts.0.material',
      'cuts.1.count',
    ])
  })
})

test('gas of a cut by the user’s own figures names no table', () => {
  const own = { cuttingOxygenM3PerS: 2e-3, fuelM3PerS: 0, speedMPerS: 2e-3 }
  const outcome = estimateCutList({
    fuel: 'acetylene',
    cuts: [
      {
        id: 'own',
        material: 'cast_iron',
        shape: { kind: 'squareBar', sideM: 0.05 },
        count: 1,
        own,
      },
    ],
  })
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusals))
  expect(outcome.cuts[0]?.oxygenKg.source).toMatchObject({ tableId: null, provenance: 'entered' })
})
