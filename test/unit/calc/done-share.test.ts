import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { doneShare, type EstimatedCut } from '@/lib/calc/done-share'

const cuts: EstimatedCut[] = [
  { cutId: 'a', count: 4, oxygenKg: 8, fuelKg: 1 },
  { cutId: 'b', count: 2, oxygenKg: 2, fuelKg: 1 },
]

describe('doneShare', () => {
  test('weighs each cut by the gas that the estimate put on it', () => {
    expect(doneShare(cuts, [{ cutId: 'a', pieces: 2 }])).toEqual({
      oxygen: 0.4,
      fuel: 0.25,
      unestimatedPieces: 0,
    })
  })

  test('adds the logs of one cut, and passes one where more was cut than estimated', () => {
    const logged = [
      { cutId: 'a', pieces: 4 },
      { cutId: 'b', pieces: 2 },
      { cutId: 'b', pieces: 1 },
    ]
    expect(doneShare(cuts, logged)).toMatchObject({ oxygen: 1.1, fuel: 1.25 })
  })

  test('counts what the estimate does not know apart', () => {
    const logged = [
      { cutId: 'c', pieces: 3 },
      { cutId: null, pieces: 1 },
    ]
    expect(doneShare(cuts, logged)).toEqual({ oxygen: 0, fuel: 0, unestimatedPieces: 4 })
  })

  test('says nothing of an estimate without gas', () => {
    expect(doneShare([], [{ cutId: 'a', pieces: 1 }])).toBeNull()
    expect(doneShare([{ cutId: 'a', count: 1, oxygenKg: 0, fuelKg: 0 }], [])).toBeNull()
  })

  test('grows with every piece, whatever the order of the logs', () => {
    const piece = fc.record({
      cutId: fc.constantFrom('a', 'b', 'c', null),
      pieces: fc.integer({ min: 0, max: 9 }),
    })
    fc.assert(
      fc.property(fc.array(piece), piece, (logged, more) => {
        const before = doneShare(cuts, logged)
        const after = doneShare(cuts, [more, ...logged])
        const turned = doneShare(cuts, [...logged.toReversed(), more])
        expect(after?.oxygen ?? 0).toBeGreaterThanOrEqual(before?.oxygen ?? 1)
        expect(after?.oxygen).toBeCloseTo(turned?.oxygen ?? -1, 9)
      }),
      { numRuns: 200 },
    )
  })
})
