import { describe, expect, test } from 'vitest'
import { estimateCutList } from '@/lib/calc/estimate'
import type { CutInput, EstimateInput } from '@/lib/calc/estimate-types'
import {
  COATING_CODES,
  coatingAdvice,
  MATERIAL_CODES,
  MATERIALS,
  suitability,
} from '@/lib/calc/materials'
import { OFC_CARBON_STEEL } from '@/lib/calc/tables/ofc-carbon-steel'
import { chartRefusals, chartReport } from '@/lib/calc/tip-chart-check'
import { RULES } from '@/lib/rules/catalogue'
import { cutList, estimated, plateCut } from './estimate-fixtures'

const half = { kind: 'plate', thicknessM: 0.0127, lengthM: 2 } as const
const beam = { kind: 'wShape', designation: 'W12x50' } as const
const first = (more: Partial<CutInput>, input: Partial<EstimateInput> = {}) => {
  const [cut] = estimated(cutList({ cuts: [plateCut(more)], ...input })).cuts
  if (!cut) throw new Error('no cut')
  return cut
}
const runsOf = (more: Partial<CutInput>) =>
  first(more).segments.map(({ part, count, lengthM, pathM }) => ({
    part,
    count,
    lengthM: lengthM.value,
    pathM: pathM.value,
  }))
const refusalsOf = (more: Partial<CutInput>, input: Partial<EstimateInput> = {}) => {
  const outcome = estimateCutList(cutList({ cuts: [plateCut(more)], ...input }))
  return outcome.ok ? [] : outcome.refusals
}

describe('what is done to a shape', () => {
  test('a hole is its circumference, pierced, and drops its disc', () => {
    const task = { kind: 'hole', diameterM: 0.05 } as const
    const hole = first({ task })
    expect(hole.segments[0]?.lengthM.value).toBeCloseTo(Math.PI * 0.05, 12)
    expect(hole.pieceKg?.value).toBeCloseTo((Math.PI / 4) * 0.05 ** 2 * 0.0127 * 7850, 12)
    const atEdge = first({ task, pierced: false })
    expect(hole.time.startS).toBeGreaterThan(atEdge.time.startS)
  })

  test('a notch is cut on three sides', () => {
    const notch = first({ task: { kind: 'notch', lengthM: 0.2, depthM: 0.05 } })
    expect(notch.segments[0]?.lengthM.value).toBeCloseTo(0.3, 12)
    expect(notch.pieceKg?.value).toBeCloseTo(0.2 * 0.05 * 0.0127 * 7850, 12)
  })

  // W12x50: flange 8.08 x 0.640, web 0.370 in.
  test('a cope runs along the web, up to the flange and across it', () => {
    const runs = runsOf({ shape: beam, task: { kind: 'cope', lengthM: 0.1, depthM: 0.05 } })
    expect(runs).toMatchObject([
      { part: 'flange', count: 1, lengthM: expect.closeTo(8.08 * 0.0254, 9) },
      { part: 'web', count: 1, lengthM: expect.closeTo(0.1 + 0.05 - 0.64 * 0.0254, 9) },
    ])
  })

  test('a bevel goes down to its land', () => {
    const task = { kind: 'bevel', angleDeg: 30, landM: 0.0027 } as const
    const bevel = first({ task })
    expect(bevel.segments[0]?.pathM.value).toBeCloseTo(0.01 / Math.cos(Math.PI / 6), 12)
    expect(bevel.pieceKg?.value).toBeCloseTo(0.5 * 0.01 ** 2 * Math.tan(Math.PI / 6) * 2 * 7850, 9)
  })

  test('a stack is cut through all its plates and drops a piece of each', () => {
    const piece = { areaM2: 0.1 }
    const stack = first({ stackPlates: 3, piece })
    expect(stack.segments[0]?.pathM.value).toBeCloseTo(3 * 0.0127, 12)
    expect(stack.pieceKg?.value).toBeCloseTo(3 * (first({ piece }).pieceKg?.value ?? 0), 12)
  })

  test('a mitred section has the area of its square cut over the cosine', () => {
    const area = (more: Partial<CutInput>) =>
      runsOf(more).reduce((sum, run) => sum + run.count * run.lengthM * run.pathM, 0)
    for (const shape of [
      beam,
      { kind: 'angle', designation: 'L4x4x1/2' },
      { kind: 'hss', designation: 'HSS6x4x1/4' },
    ] as const)
      for (const miterOn of ['flange', 'web'] as const)
        expect(area({ shape, miterDeg: 40, miterOn }) / area({ shape })).toBeCloseTo(
          1 / Math.cos((40 * Math.PI) / 180),
          9,
        )
  })

  // Ramanujan: the ellipse of a 45° mitre on a mean circle of 1 is 1.2160 of the circle (elliptic integral).
  test('a pipe mitred at 45 degrees is an ellipse', () => {
    const shape = { kind: 'pipe', outsideDiameterM: 0.3, wallM: 0.01 } as const
    const [square, mitred] = [runsOf({ shape })[0], runsOf({ shape, miterDeg: 45 })[0]]
    expect((mitred?.lengthM ?? 0) / (square?.lengthM ?? 1)).toBeCloseTo(1.216, 3)
  })

  test('heads are cut at one and three quarters of the shank', () => {
    const [run] = runsOf({ shape: { kind: 'rivetHead', shankDiameterM: 0.02 } })
    expect(run).toMatchObject({ part: 'head', pathM: expect.closeTo(0.035, 12) })
  })

  test('a piece above the lifting limit must be rigged, and the limit can be changed', () => {
    const piece = { areaM2: 0.5 }
    expect(first({ piece }).rig).toEqual({ mustRig: true, aboveKg: 23 })
    expect(first({ piece }, { judgements: { rigAbove: 60 } }).rig).toEqual({
      mustRig: false,
      aboveKg: 60,
    })
    expect(first({}).rig).toBeNull()
  })

  test.each<[Partial<CutInput>, string, string]>([
    [{ shape: beam, stackPlates: 2 }, 'NOT_FOR_SHAPE', 'cuts.0.stackPlates'],
    [{ miterDeg: 10 }, 'NOT_FOR_SHAPE', 'cuts.0.miterDeg'],
    [{ task: { kind: 'cope', lengthM: 0.1, depthM: 0.1 } }, 'NOT_FOR_SHAPE', 'cuts.0.task.kind'],
    [{ task: { kind: 'hole', diameterM: 0.1, part: 'web' } }, 'NOT_FOR_SHAPE', 'cuts.0.task.part'],
    [{ task: { kind: 'hole', diameterM: 0 } }, 'OUT_OF_RANGE', 'cuts.0.task.diameterM'],
    [
      { shape: beam, task: { kind: 'cope', lengthM: 0.1, depthM: 1 } },
      'OUT_OF_RANGE',
      'cuts.0.task.depthM',
    ],
    [{ coating: 'glitter' }, 'UNKNOWN_COATING', 'cuts.0.coating'],
    [{ shape: { kind: 'gouge', areaM2: 0.1, depthM: 0.005 } }, 'OWN_SETTINGS_NEEDED', 'cuts.0.own'],
    [
      { shape: { kind: 'pipeSize', designation: '1/2 sch 40' } },
      'OUTSIDE_TABLE',
      'cuts.0.shape.designation',
    ],
  ])('%j is refused as %s on %s', (more, code, field) => {
    expect(refusalsOf(more)).toMatchObject([{ code, field }])
  })
})

describe('gas and speed of the user’s own', () => {
  const own = { cuttingOxygenM3PerS: 0.004, fuelM3PerS: 0.0003, speedMPerS: 0.002 }

  test('lances a metal outside the table at just those flows, with no floor', () => {
    const cut = first({ material: 'cast_iron', own, restarts: 0 }, { idleFlameFraction: 0 })
    // 10 cuts of 2 m at 2 mm/s.
    expect(cut.time.cuttingS).toBeCloseTo(10_000, 6)
    expect(cut.oxygenFloorKg.value).toBe(0)
    expect(cut.segments[0]?.speedMPerS.source.provenance).toBe('entered')
    expect(cut.segments[0]?.orificeM).toBeNull()
  })

  test('gouges by area at the user’s own rate', () => {
    const { speedMPerS: _linear, ...flows } = own
    const shape = { kind: 'gouge', areaM2: 0.2, depthM: 0.005 } as const
    const cut = first({ shape, own: { ...flows, areaM2PerS: 0.0001 } })
    expect(cut.time.cuttingS).toBeCloseTo(20_000, 6)
    expect(cut.segments[0]?.lengthM.unit).toBe('m2')
  })

  test('a fuel that the table lacks burns at the user’s own flow, the table’s speed and oxygen', () => {
    expect(refusalsOf({}, { fuel: 'propylene' })).toMatchObject([
      { code: 'FUEL_NOT_IN_TABLE', instead: ['ownTipChart', 'ownFuelFlow'] },
    ])
    const cut = first({}, { fuel: 'propylene', ownFuelFlowM3PerS: [0.0001, 0.0002] })
    expect(cut.segments[0]?.speedMPerS.value).toBe(first({}).segments[0]?.speedMPerS.value)
    expect(cut.segments[0]?.fuelM3PerS.source.provenance).toBe('entered')
  })
})

describe('judged figures', () => {
  test('each is seen in the opened number and can be changed within its bounds', () => {
    const wind = { position: 'overhead', conditions: ['wind', 'cold'] } as const
    const cut = first({ ...wind, conditions: [...wind.conditions] })
    expect(cut.positionMultiplier.value).toBeCloseTo(1.3 * 1.15 * 1.1, 12)
    expect(cut.startMultiplier.value).toBeCloseTo(1.15 * 1.1, 12)
    const named = cut.positionMultiplier.source.inputs.map((input) => input.name)
    expect(named).toEqual(['overhead', 'wind', 'cold', 'mostTimes'])
    const changed = first({ position: 'overhead' }, { judgements: { overhead: 1.5 } })
    expect(changed.positionMultiplier).toMatchObject({
      value: 1.5,
      source: { provenance: 'entered' },
    })
  })

  test('outside their bounds, or unknown, they are refused', () => {
    expect(refusalsOf({}, { judgements: { overhead: 0.5 } })).toMatchObject([
      { code: 'OUT_OF_RANGE', field: 'judgements.overhead' },
    ])
    expect(refusalsOf({}, { judgements: { luck: 2 } as object })).toMatchObject([
      { code: 'UNKNOWN_JUDGEMENT', field: 'judgements.luck' },
    ])
  })

  test('oxygen between 95 and 98.5 % carries the published slope on and says so', () => {
    const poor = estimated(cutList({ oxygenPurityPct: 96 }))
    expect(poor.notes).toContain('purityBelowPublished')
    expect(poor.oxygen.mean).toBeGreaterThan(
      estimated(cutList({ oxygenPurityPct: 98 })).oxygen.mean,
    )
  })

  test('going from piece to piece adds to the day, not to the torch', () => {
    const [still, going] = [estimated(cutList()), estimated(cutList({ travelSPerCut: 60 }))]
    expect(going.time.torchS).toBe(still.time.torchS)
    expect(going.time.elapsedS).toBeCloseTo(still.time.elapsedS + 600, 9)
  })
})

describe('metals and coatings', () => {
  test('a metal that is not cut has its reason and something to use instead', () => {
    for (const material of MATERIAL_CODES) {
      const answer = suitability({ material })
      expect(answer.ok).toBe(true)
      if (answer.ok && !answer.cuttable) {
        expect(answer.because).not.toBeNull()
        expect(answer.instead).toContain('ownSettings')
      }
      expect(MATERIALS[material].densityKgPerM3).toBeGreaterThan(2500)
    }
  })

  test('every coating but none asks for something, by rules that stand in the catalogue', () => {
    for (const coating of COATING_CODES.filter((code) => code !== 'none')) {
      const advice = coatingAdvice(coating)
      const asked = [...(advice?.inTheOpen ?? []), ...(advice?.enclosed ?? [])]
      expect(asked.length).toBeGreaterThan(0)
      for (const { rules } of asked) for (const rule of rules) expect(RULES).toHaveProperty([rule])
    }
  })

  test('lead paint asks for a respirator in the open and for exhaust or air line enclosed', () => {
    const advice = first({ coating: 'lead_paint' }).coating
    expect(advice?.inTheOpen.map((row) => row.precaution)).toEqual([
      'filter-respirator',
      'lead-interim-protection',
    ])
    expect(advice?.enclosed.map((row) => row.precaution)).toContain('local-exhaust-or-airline')
  })
})

describe('tip charts', () => {
  test('the built-in table may be used, and its 6 in row is reported under the floor', () => {
    expect(chartRefusals(OFC_CARBON_STEEL, 'tipChart')).toEqual([])
    const below = chartReport(OFC_CARBON_STEEL).filter((row) => row.isBelowFloor)
    expect(below.map((row) => row.thicknessIn)).toEqual([6])
    expect(estimated(cutList({ cuts: [plateCut({ shape: half })] })).chartRowsBelowFloor).toEqual([
      11,
    ])
  })

  test('a row whose speed rises, or that takes less oxygen than a thinner one, is refused', () => {
    const rows = OFC_CARBON_STEEL.rows.map((row, i) =>
      i === 5
        ? { ...row, speedInPerMin: [30, 40] as const, cuttingOxygenFt3PerH: [1, 2] as const }
        : row,
    )
    const found = chartRefusals({ ...OFC_CARBON_STEEL, rows }, 'tipChart')
    expect(found.map(({ code, field }) => [code, field])).toEqual([
      ['CHART_NOT_MONOTONE', 'tipChart.rows.5.speedInPerMin'],
      ['CHART_NOT_MONOTONE', 'tipChart.rows.5.cuttingOxygenFt3PerH'],
    ])
  })

  test('acetylene above 15 psig is refused in a chart too', () => {
    const rows = OFC_CARBON_STEEL.rows.map((row) => ({
      ...row,
      fuelPsig: { acetylene: [5, 16] as const },
    }))
    expect(chartRefusals({ ...OFC_CARBON_STEEL, rows }, 'tipChart')[0]).toMatchObject({
      code: 'OUT_OF_RANGE',
      field: 'tipChart.rows.0.fuelPsig.acetylene.1',
      limit: { max: 15 },
    })
  })
})
