import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { typedFrom } from '@/app/(app)/jobs/[jobId]/cut/typed-from'
import { rowFrom } from '@/app/(app)/jobs/[jobId]/sheet/cells-from'
import { prepareCut } from '@/lib/calc/cut-check'
import { emptyRuns } from '@/lib/calc/cut-runs'
import { cutCheck } from '@/lib/calc/estimate-context'
import { sectionNames } from '@/lib/calc/sections/named-section'
import { OFC_CARBON_STEEL } from '@/lib/calc/tables/ofc-carbon-steel'
import { describedCutSchema } from '@/lib/schemas/cut'
import { CUT_CONDITIONS, type CutDims, cutDimsSchema } from '@/lib/schemas/cut-dims'
import { toCutInput } from '@/lib/schemas/cut-input'
import { boxesOfCut, CUT_SHAPES, type CutShapeCode, SHAPES } from '@/lib/schemas/cut-shapes'
import { readSheetRow } from '@/lib/schemas/sheet-row'

const inch = (min: number, max: number) =>
  fc.integer({ min: min * 16, max: max * 16 }).map((sixteenths) => (sixteenths / 16) * 0.0254)

function shapeArb(code: CutShapeCode): fc.Arbitrary<object> {
  const { kind, family } = SHAPES[code]
  if (family)
    return fc.constantFrom(...sectionNames(family)).map((designation) => ({ kind, designation }))
  const wall = inch(0.25, 1)
  const measures: Record<string, fc.Arbitrary<object>> = {
    plate: fc.record({ thicknessM: inch(0.25, 6), lengthM: inch(1, 200) }),
    flat_bar: fc.record({ thicknessM: inch(0.25, 6), widthM: inch(1, 20) }),
    square_bar: fc.record({ sideM: inch(0.5, 6) }),
    round_bar: fc.record({ diameterM: inch(0.5, 6) }),
    pipe: fc.record({ outsideDiameterM: inch(4, 30), wallM: wall }),
    rivet_head: fc.record({ shankDiameterM: inch(0.5, 1.5) }),
    bolt_head: fc.record({ shankDiameterM: inch(0.5, 1.5) }),
    gouge: fc.record({ areaM2: fc.integer({ min: 1, max: 40 }), depthM: inch(0.125, 1) }),
    wash_off: fc.record({ areaM2: fc.integer({ min: 1, max: 40 }), depthM: inch(0.125, 1) }),
  }
  return (measures[code] ?? fc.constant({})).map((found) => ({ kind, ...found }))
}

const taskArb = (code: CutShapeCode): fc.Arbitrary<object | undefined> => {
  const { tasks, parts } = SHAPES[code]
  const part =
    parts === 'all' ? fc.constantFrom({}, { part: 'web' }, { part: 'flange' }) : fc.constant({})
  const all: Record<string, fc.Arbitrary<object | undefined>> = {
    sever: fc.constant(undefined),
    hole: fc
      .tuple(inch(0.5, 2), part)
      .map(([diameterM, on]) => ({ kind: 'hole', diameterM, ...on })),
    notch: fc
      .tuple(inch(0.5, 2), inch(0.5, 1), part)
      .map(([lengthM, depthM, on]) => ({ kind: 'notch', lengthM, depthM, ...on })),
    cope: fc
      .tuple(inch(2, 6), inch(1, 2))
      .map(([lengthM, depthM]) => ({ kind: 'cope', lengthM, depthM })),
    bevel: fc
      .tuple(fc.integer({ min: 10, max: 45 }), fc.option(inch(0.0625, 0.125), { nil: undefined }))
      .map(([angleDeg, landM]) => ({ kind: 'bevel', angleDeg, ...(landM ? { landM } : {}) })),
  }
  return fc.oneof(
    ...(tasks.length > 0 ? tasks : (['sever'] as const)).map(
      (task) => all[task] ?? fc.constant(undefined),
    ),
  )
}

/** Everything that a cut of any shape may hold. */
const dimsArb: fc.Arbitrary<CutDims> = fc.constantFrom(...CUT_SHAPES).chain((code) =>
  fc
    .record({
      shape: shapeArb(code),
      task: taskArb(code),
      degrees: fc.integer({ min: 0, max: 45 }),
      stack: fc.integer({ min: 2, max: 5 }),
      pierced: fc.option(fc.boolean(), { nil: undefined }),
      restarts: fc.option(fc.integer({ min: 0, max: 9 }), { nil: undefined }),
      conditions: fc.subarray([...CUT_CONDITIONS]),
      isOwn: fc.boolean(),
      length: inch(12, 240),
      isMitred: fc.boolean(),
    })
    .map((given) => {
      const kind = (given.task as { kind?: string } | undefined)?.kind
      const boxes = boxesOfCut(code, kind)
      const has = (box: Parameters<typeof boxes.has>[0]) => boxes.has(box)
      const isMitred = given.isMitred && has('miter') && given.degrees > 0
      const dims = {
        shape: given.shape,
        task: given.task,
        bevelDeg:
          has('bevel') && kind !== 'bevel' && !isMitred ? given.degrees || undefined : undefined,
        miterDeg: isMitred ? given.degrees : undefined,
        miterOn: isMitred && has('part') ? 'flange' : undefined,
        stackPlates: has('stack') ? given.stack : undefined,
        pierced: has('start') ? given.pierced : undefined,
        restarts: has('restarts') ? given.restarts : undefined,
        conditions: given.conditions.length > 0 ? given.conditions : undefined,
        own: given.isOwn
          ? {
              cuttingOxygenM3PerS: 0.001,
              fuelM3PerS: 0,
              ...(has('ownArea') ? { areaM2PerS: 1e-5 } : { speedMPerS: 0.005 }),
            }
          : undefined,
        piece: has('pieceLength')
          ? { lengthM: given.length }
          : has('pieceArea')
            ? { areaM2: 2 }
            : undefined,
      }
      return cutDimsSchema.parse(JSON.parse(JSON.stringify(dims)))
    }),
)

const cutOf = (dims: CutDims) => ({
  id: '0190b0a0-0000-7000-8000-000000000001',
  ordinal: 1,
  title: '',
  material: 'carbon_steel',
  coating: 'zinc',
  dims,
  position: 'overhead' as const,
  count: 4,
  doneCount: 0,
  pieceKg: null,
  note: null,
  version: 0,
})

/** Equal but for what seven figures of a typed number leave out. */
function expectSame(found: unknown, kept: unknown): void {
  if (typeof kept === 'number' && typeof found === 'number') {
    expect(Math.abs(found - kept)).toBeLessThanOrEqual(1e-6 * Math.max(1e-6, Math.abs(kept)))
    return
  }
  if (typeof kept !== 'object' || kept === null || typeof found !== 'object' || found === null) {
    expect(found).toEqual(kept)
    return
  }
  expect(Object.keys(found).sort()).toEqual(Object.keys(kept).sort())
  for (const [key, value] of Object.entries(kept))
    expectSame((found as Record<string, unknown>)[key], value)
}

describe.each(['us', 'si'] as const)('a cut of any shape, read in %s', (units) => {
  test('comes back from its row of the sheet as it was kept', () => {
    fc.assert(
      fc.property(dimsArb, (dims) => {
        const { cells } = rowFrom(cutOf(dims), { units })
        const read = readSheetRow(cells, units)
        if (!read.ok) throw new Error(JSON.stringify([cells, read.problems]))
        expectSame(read.cut.dims, dims)
        expect(read.cut).toMatchObject({ coating: 'zinc', position: 'overhead', count: 4 })
      }),
      { numRuns: 200 },
    )
  })

  test('comes back from its form as it was kept', () => {
    fc.assert(
      fc.property(dimsArb, (dims) => {
        const typed = typedFrom(cutOf(dims), { units })
        const ticks = Object.fromEntries(typed.conditions.map((code) => [code, 'yes']))
        const { shape, task, part, start, material, coating, position } = typed
        const isUs = units === 'us'
        const unitsOf = Object.fromEntries(
          Object.entries({
            small: isUs ? 'in' : 'mm',
            long: isUs ? 'ft' : 'm',
            area: isUs ? 'ft2' : 'm2',
            flow: isUs ? 'ft3/h' : 'm3/h',
            speed: isUs ? 'in/min' : 'mm/min',
            areaRate: isUs ? 'ft2/h' : 'm2/h',
          }),
        )
        const boxUnits = Object.fromEntries(
          Object.keys(typed.boxes).map((box) => [
            `${box}Unit`,
            unitsOf[
              {
                length: 'long',
                pieceLength: 'long',
                area: 'area',
                pieceArea: 'area',
                ownOxygen: 'flow',
                ownFuel: 'flow',
                ownSpeed: 'speed',
                ownArea: 'areaRate',
              }[box] ?? 'small'
            ],
          ]),
        )
        const form = {
          shape,
          task,
          part,
          start,
          material,
          coating,
          position,
          ...typed.boxes,
          ...boxUnits,
          ...ticks,
        }
        expectSame(describedCutSchema.parse(form).dims, dims)
      }),
      { numRuns: 200 },
    )
  })
})

test('lib/calc refuses none of what the form lets through for its shape and task', () => {
  const check = cutCheck(OFC_CARBON_STEEL)
  fc.assert(
    fc.property(dimsArb, (dims) => {
      check.refusals.length = 0
      prepareCut(toCutInput(cutOf(dims), 'hand'), 0, check, emptyRuns())
      expect(check.refusals.filter(({ code }) => code === 'NOT_FOR_SHAPE')).toEqual([])
    }),
    { numRuns: 300 },
  )
})
