import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { AreaDrawing, DrawnMark, DrawnSheet } from '@/lib/permit/drawing'
import { distanceTo, pointToward, rescaled } from '@/lib/permit/drawing'
import { evaluateDrawn } from '@/lib/permit/drawing-conditions'
import { loosened } from '@/lib/rules/compare'
import { evaluate } from '@/lib/rules/evaluate'
import { conditions, layers } from '../rules/arbitrary'

const metre = fc.double({ min: 0, max: 120, noNaN: true })
const point = fc.record({ xM: metre, yM: metre })
const sheets = fc.tuple(fc.option(point), fc.option(point)).map(([deck, hold]): DrawnSheet[] => [
  { id: 'deck', name: 'Deck', heightM: 0, widthM: 120, depthM: 120, column: deck, pictureId: null },
  {
    id: 'hold',
    name: 'Hold',
    heightM: -4,
    widthM: 120,
    depthM: 120,
    column: hold,
    pictureId: null,
  },
])
const mark: fc.Arbitrary<DrawnMark> = fc
  .record({
    sheetId: fc.constantFrom('deck', 'hold'),
    at: point,
    measuredM: fc.option(metre),
    what: fc.oneof(
      fc.record({
        kind: fc.constant('opening' as const),
        opening: fc.record({
          kind: fc.constantFrom('wall' as const, 'floor' as const, 'duct' as const),
          exposes: fc.option(fc.boolean()),
          canClose: fc.boolean(),
        }),
      }),
      fc.record({
        kind: fc.constant('burnable' as const),
        burnable: fc.record({
          state: fc.constantFrom('movable', 'covered', 'stays', 'unprotectable'),
          isEasilyLit: fc.boolean(),
        } as const),
      }),
      fc.record({
        kind: fc.constant('extinguisher' as const),
        extinguisher: fc.record({ ratingA: fc.nat(4), ratingB: fc.nat(40) }),
      }),
      fc.record({
        kind: fc.constant('sprinkler_head' as const),
        head: fc.record({ isReached: fc.boolean() }),
      }),
      fc.record({ kind: fc.constant('watch_post' as const) }),
    ),
  })
  .map(({ what, ...rest }) => ({ id: '', label: '', ...rest, ...what }))
const drawing: fc.Arbitrary<AreaDrawing> = fc
  .record({ sheets, marks: fc.array(mark, { maxLength: 6 }) })
  .map((drawn) => ({ workSheetId: 'deck', ...drawn }))

test('a drawing adds to what the answers ask and never takes from it', () => {
  fc.assert(
    fc.property(layers, conditions, drawing, (some, c, drawn) => {
      const [answered, both] = [evaluate(some, c), evaluateDrawn(some, c, drawn)]
      expect(loosened(answered, both)).toEqual([])
      expect(both.reasons).toEqual(expect.arrayContaining([...answered.reasons]))
    }),
    { numRuns: 400 },
  )
})

test('one more thing that burns, or opens, or is reached, loosens nothing', () => {
  const adds = mark.filter(({ kind }) => ['burnable', 'opening', 'sprinkler_head'].includes(kind))
  fc.assert(
    fc.property(layers, conditions, drawing, adds, (some, c, drawn, one) => {
      const more = { ...drawn, marks: [...drawn.marks, one] }
      expect(loosened(evaluateDrawn(some, c, drawn), evaluateDrawn(some, c, more))).toEqual([])
    }),
    { numRuns: 400 },
  )
})

test('a mark put so far away by list is that far away', () => {
  const clock = fc.integer({ min: 1, max: 12 })
  fc.assert(
    fc.property(fc.double({ min: 0, max: 60, noNaN: true }), clock, (distanceM, hour) => {
      const column = { xM: 60, yM: 60 }
      const [deck] = fc.sample(sheets, 1)[0] as DrawnSheet[]
      const one: DrawnMark = {
        ...{ id: 'm', sheetId: 'deck', kind: 'watch_post' as const, label: '' },
        at: pointToward(column, { distanceM, clock: hour }),
        measuredM: distanceM,
      }
      const drawn = {
        workSheetId: 'deck',
        sheets: [{ ...(deck as DrawnSheet), column }],
        marks: [one],
      }
      const found = distanceTo(drawn, one)
      expect(found?.isMeasured).toBe(true)
      expect(Math.abs((found?.countedFt ?? 0) - distanceM / 0.3048)).toBeLessThan(1 / 3048)
    }),
  )
})

test('a sheet taken to another scale and back is where it was', () => {
  fc.assert(
    fc.property(drawing, fc.double({ min: 20, max: 500, noNaN: true }), (drawn, widthM) => {
      const back = rescaled(rescaled(drawn, 'deck', widthM), 'deck', 120)
      back.marks.forEach((one, index) => {
        const was = drawn.marks[index]?.at
        expect(Math.abs(one.at.xM - (was?.xM ?? 0))).toBeLessThan(0.001)
        expect(Math.abs(one.at.yM - (was?.yM ?? 0))).toBeLessThan(0.001)
      })
    }),
  )
})
