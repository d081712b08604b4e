import { describe, expect, test } from 'vitest'
import {
  distanceTo,
  pointToward,
  rescaled,
  standingPart,
  widthFromKnown,
  workPoint,
} from '@/lib/permit/drawing'
import { evaluateDrawn } from '@/lib/permit/drawing-conditions'
import { drawingFindings, drawingReasons, levelsWithoutPost } from '@/lib/permit/drawing-findings'
import { DEFAULT_CONDITIONS } from '@/lib/rules/conditions'
import { RULESETS } from '@/lib/rules/layers'
import { doorway, drawingOf, mark, metres, pallets, sheet } from './drawn'

const asked = (marks: Parameters<typeof drawingOf>[0], sheets?: Parameters<typeof drawingOf>[1]) =>
  evaluateDrawn(
    [RULESETS['us-osha-1910'], RULESETS['us-ifc-2018']],
    DEFAULT_CONDITIONS,
    drawingOf(marks, sheets),
  ).precautions.map(({ id }) => id)

describe('a distance', () => {
  test('is 35 ft exactly where 35 ft was drawn or measured', () => {
    const drawing = drawingOf([pallets(35), pallets(35, {}, { measuredM: null })])
    const [measured, placed] = drawing.marks.map((one) => distanceTo(drawing, one))
    expect(measured).toMatchObject({ levelFt: 35, countedFt: 35, isMeasured: true })
    // Placed by finger: a foot nearer, since that is how far the finger may be off.
    expect(placed).toMatchObject({ levelFt: 35, countedFt: 34, isMeasured: false })
  })

  test('that was measured counts only while work and mark are where they were', () => {
    const drawing = drawingOf([pallets(40, {}, { at: { xM: metres(120), yM: metres(100) } })])
    const [moved] = drawing.marks
    expect(moved && distanceTo(drawing, moved)).toMatchObject({ levelFt: 20, countedFt: 19 })
  })

  test('of a thing on a level that is not placed over the work counts as at the work', () => {
    const drawing = drawingOf(
      [pallets(100, { state: 'unprotectable' }, { sheetId: 'hold' })],
      [sheet('deck'), sheet('hold', -10, { column: null })],
    )
    expect(evaluateDrawn([RULESETS['us-osha-1910']], DEFAULT_CONDITIONS, drawing).decision).toBe(
      'forbidden',
    )
    expect(drawingReasons(drawing)).toEqual([
      { code: 'drawing_level_not_placed', params: { sheet: 'hold' } },
    ])
  })

  test('3 o’clock is to the right, 12 up the sheet', () => {
    const from = { xM: 10, yM: 10 }
    expect(pointToward(from, { distanceM: 5, clock: 3 })).toEqual({ xM: 15, yM: 10 })
    expect(pointToward(from, { distanceM: 5, clock: 12 })).toEqual({ xM: 10, yM: 5 })
    expect(pointToward(from, { distanceM: 5, clock: 6 })).toEqual({ xM: 10, yM: 15 })
  })
})

describe('scale', () => {
  test('follows from one distance that is known', () => {
    const known = { widthM: 10, from: { xM: 0, yM: 0 }, to: { xM: 3, yM: 4 }, knownM: 20 }
    expect(widthFromKnown(known)).toBe(40)
    expect(widthFromKnown({ ...known, to: known.from })).toBeNull()
    expect(widthFromKnown({ ...known, knownM: 0 })).toBeNull()
  })

  test('moves nothing on the paper, and takes no tape’s word for the new one', () => {
    const twice = rescaled(drawingOf([pallets(30)]), 'deck', metres(400))
    const [one] = twice.marks
    expect(workPoint(twice)).toEqual({ xM: metres(200), yM: metres(200) })
    expect(one).toMatchObject({ measuredM: null, at: { xM: metres(260) } })
    expect(one && distanceTo(twice, one)?.levelFt).toBeCloseTo(60, 9)
  })
})

describe('openings and levels', () => {
  const levels = [sheet('deck'), sheet('hold', -12)]

  test('an opening of which nobody said what lies beyond counts as exposing it', () => {
    const unsaid = doorway(20, { opening: { kind: 'wall', exposes: null, canClose: false } })
    expect(asked([unsaid])).toContain('clear-below-and-beyond')
    expect(drawingReasons(drawingOf([unsaid]))).toMatchObject([{ code: 'drawing_opening_unsaid' }])
  })

  test('a grating over stored paper exposes it, whatever was answered', () => {
    const grating = doorway(5, { opening: { kind: 'floor', exposes: false, canClose: false } })
    const paper = pallets(10, {}, { sheetId: 'hold' })
    expect(asked([grating], levels)).not.toContain('clear-below-and-beyond')
    expect(asked([grating, paper], levels)).toEqual(
      expect.arrayContaining(['clear-below-and-beyond', 'watch-far-side', 'extra-watchers']),
    )
    expect(drawingFindings(drawingOf([grating, paper], levels), [])[0]).toMatchObject({
      burnsBelow: true,
    })
  })

  test('a level with something near that burns needs a post of its own', () => {
    const paper = pallets(10, {}, { sheetId: 'hold' })
    expect(levelsWithoutPost(drawingOf([paper], levels))).toEqual(['hold'])
    const post = mark('watch_post', 8, { sheetId: 'hold' })
    expect(levelsWithoutPost(drawingOf([paper, post], levels))).toEqual([])
    expect(asked([paper], levels)).toContain('extra-watchers')
    expect(asked([paper, post], levels)).not.toContain('extra-watchers')
  })

  test('a head that heat can reach is shielded, others are left alone', () => {
    expect(asked([mark('sprinkler_head', 5, { head: { isReached: true } })])).toContain(
      'shield-sprinkler-heads',
    )
    expect(asked([mark('sprinkler_head', 5, { head: { isReached: false } })])).not.toContain(
      'shield-sprinkler-heads',
    )
  })
})

test('a drawing without the work on it says so; one with nothing on it says nothing', () => {
  const bare = drawingOf([], [sheet('deck', 0, { column: null })])
  expect(drawingReasons(bare)).toEqual([])
  expect(drawingReasons({ ...bare, marks: [doorway(5)] })).toMatchObject([
    { code: 'drawing_no_work_point' },
  ])
})

test('a new permit takes over levels, openings and heads, and no word about any of them', () => {
  const old = drawingOf([
    doorway(5),
    pallets(10),
    mark('extinguisher', 5, { extinguisher: { ratingA: 2, ratingB: 20 } }),
    mark('watch_post', 5),
    mark('sprinkler_head', 5, { head: { isReached: true } }),
  ])
  const kept = standingPart(old)
  expect(workPoint(kept)).toBeNull()
  expect(kept.marks.map(({ kind }) => kind)).toEqual(['opening', 'sprinkler_head'])
  expect(kept.marks[0]).toMatchObject({
    measuredM: null,
    opening: { exposes: null, canClose: false },
  })
  expect(kept.marks[1]?.head).toEqual({ isReached: false })
})
