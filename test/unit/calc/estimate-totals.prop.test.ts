import fc from 'fast-check'
import { expect, test } from 'vitest'
import { chartCurves, emptySettings, lookUp } from '@/lib/calc/chart-curves'
import { preheatSeconds } from '@/lib/calc/cut-times'
import { estimateCutList } from '@/lib/calc/estimate'
import { estimateContext } from '@/lib/calc/estimate-context'
import { estimateTotals } from '@/lib/calc/estimate-totals'
import type { CutInput, EstimateInput } from '@/lib/calc/estimate-types'
import { interpolateMonotone, type Point } from '@/lib/calc/interpolate'
import { narrowKerfMm } from '@/lib/calc/oxygen-floor'
import { SECTION_FAMILIES, sectionNames } from '@/lib/calc/sections/named-section'
import { OFC_CARBON_STEEL } from '@/lib/calc/tables/ofc-carbon-steel'

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const named = fc
  .constantFrom(...SECTION_FAMILIES)
  .chain((kind) =>
    fc.record({ kind: fc.constant(kind), designation: fc.constantFrom(...sectionNames(kind)) }),
  )
const shape: fc.Arbitrary<CutInput['shape']> = fc.oneof(
  fc.record({
    kind: fc.constant('plate' as const),
    thicknessM: between(0.001, 0.4),
    lengthM: between(0.01, 30),
  }),
  fc.record({ kind: fc.constant('roundBar' as const), diameterM: between(0.001, 0.4) }),
  named,
)
const cut: fc.Arbitrary<CutInput> = fc.record(
  {
    id: fc.constant('a'),
    material: fc.constantFrom('carbon_steel', 'low_alloy_steel', 'copper'),
    shape,
    count: fc.integer({ min: 0, max: 50 }),
    bevelDeg: between(0, 70),
    miterDeg: between(0, 60),
    position: fc.constantFrom('flat', 'vertical', 'overhead', 'horizontal'),
    conditions: fc.subarray(['dirty', 'painted', 'awkward', 'cold', 'wind'] as const),
    process: fc.constantFrom('hand', 'machine'),
    pierced: fc.boolean(),
    restarts: fc.integer({ min: 0, max: 5 }),
    stackPlates: fc.integer({ min: 1, max: 4 }),
    piece: fc.record({ lengthM: between(0.01, 10) }),
  },
  { requiredKeys: ['id', 'material', 'shape', 'count'] },
) as fc.Arbitrary<CutInput>
const settings = fc.record(
  {
    fuel: fc.constantFrom('acetylene', 'propane', 'natural_gas'),
    oxygenPurityPct: between(95, 100),
    crewFactor: fc.record({ mean: between(0.3, 3), standardUncertainty: between(0, 0.5) }),
    travelSPerCut: between(0, 100),
  },
  { requiredKeys: ['fuel'] },
) as fc.Arbitrary<Omit<EstimateInput, 'cuts'>>

function totalsFor(cuts: CutInput[], chosen: Omit<EstimateInput, 'cuts'>) {
  const outcome = estimateContext(chosen)
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusals))
  return estimateTotals(cuts, outcome.context)
}

function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value]
  if (typeof value !== 'object' || value === null) return []
  return Object.values(value).flatMap(numbersIn)
}

test('totals are the traced estimate of the cuts that are taken, to the last digit', () => {
  fc.assert(
    fc.property(fc.array(cut, { maxLength: 8 }), settings, (cuts, chosen) => {
      const totals = totalsFor(cuts, chosen)
      const taken = cuts.filter((_cut, i) => !totals.refused.includes(i))
      fc.pre(taken.length > 0)
      const traced = estimateCutList({ ...chosen, cuts: taken })
      if (!traced.ok) throw new Error(JSON.stringify(traced.refusals))
      expect(traced.oxygen).toMatchObject({
        mean: totals.oxygen.mean,
        low90: totals.oxygen.low90,
        high90: totals.oxygen.high90,
      })
      expect(traced.fuelGas.mean).toBe(totals.fuel.mean)
      expect(traced.time).toMatchObject({ ...totals.time })
      expect(traced.oxygenFloorKg).toBe(totals.oxygenFloorKg)
      const ofCuts = traced.cuts.reduce((sum, row) => sum + row.oxygenKg.value, 0)
      expect(ofCuts + traced.oxygen.terms.lightUp).toBeCloseTo(totals.oxygen.mean, 6)
      for (const [i] of taken.entries())
        expect(traced.cuts[i]?.time.cuttingS).toBeGreaterThanOrEqual(0)
    }),
    { numRuns: 200 },
  )
})

test('over all that can be entered there is no number that is none, none below nothing, and each refusal is typed', () => {
  fc.assert(
    fc.property(fc.array(cut, { maxLength: 6 }), settings, (cuts, chosen) => {
      const totals = totalsFor(cuts, chosen)
      const { refusals, refused, ...numbers } = totals
      for (const value of numbersIn(numbers)) {
        expect(Number.isFinite(value)).toBe(true)
        expect(value).toBeGreaterThanOrEqual(0)
      }
      expect(totals.oxygen.low90).toBeGreaterThanOrEqual(totals.oxygenFloorKg)
      for (const refusal of refusals) {
        expect(refusal.code).toMatch(/^[A-Z_]+$/)
        expect(refused).toContain(Number(/^cuts\.(\d+)\./.exec(refusal.field)?.[1]))
      }
      expect(new Set(refusals.map((row) => row.field.split('.')[1])).size).toBe(refused.length)
    }),
    { numRuns: 300 },
  )
})

test('more of the same cut takes as many times more', () => {
  fc.assert(
    fc.property(cut, settings, fc.integer({ min: 2, max: 9 }), (one, chosen, times) => {
      const alone = { ...one, count: 3 }
      const fixed = { ...chosen, lightUps: 0 }
      const few = totalsFor([alone], fixed)
      fc.pre(few.refused.length === 0)
      const many = totalsFor([{ ...alone, count: 3 * times }], fixed)
      expect(many.oxygen.mean / few.oxygen.mean).toBeCloseTo(times, 9)
      expect(many.fuel.mean / few.fuel.mean).toBeCloseTo(times, 9)
      expect(many.time.torchS / few.time.torchS).toBeCloseTo(times, 9)
      expect(many.oxygen.standardUncertainty).toBeLessThanOrEqual(
        few.oxygen.standardUncertainty * times * (1 + 1e-9),
      )
    }),
    { numRuns: 200 },
  )
})

test('a look-up by coefficients is the published interpolation', () => {
  const curves = chartCurves({ chart: OFC_CARBON_STEEL, fuel: 'propane', place: 1 })
  const points = OFC_CARBON_STEEL.rows.map(
    (row): Point => [row.thicknessIn, row.cuttingOxygenFt3PerH[1]],
  )
  fc.assert(
    fc.property(between(0.003176, 0.3047), (pathM) => {
      const settingsAt = emptySettings()
      lookUp(curves, pathM, settingsAt)
      const ft3PerH = settingsAt.cuttingOxygenM3PerS / (0.3048 ** 3 / 3600)
      expect(ft3PerH / interpolateMonotone(points, pathM / 0.0254)).toBeCloseTo(1, 9)
    }),
    { numRuns: 300 },
  )
})

test('preheat and kerf in the curves are those of their own tables, bends included', () => {
  const curves = chartCurves({ chart: OFC_CARBON_STEEL, fuel: 'propane', place: 0.6 })
  const bendsM = [0.006, 0.012, 0.025, 0.05, 0.085, 0.1, 0.15]
  const pathM = fc.oneof(between(curves.minM, curves.maxM), fc.constantFrom(...bendsM))
  fc.assert(
    fc.property(pathM, (at) => {
      const settingsAt = emptySettings()
      lookUp(curves, at, settingsAt)
      expect(settingsAt.preheatS).toBeCloseTo(preheatSeconds(at, 'propane'), 9)
      expect(settingsAt.kerfMm).toBeCloseTo(narrowKerfMm(at), 9)
    }),
    { numRuns: 300 },
  )
})
