import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { CalcError } from '@/lib/calc/errors'
import { interpolateHeld, interpolateMonotone, type Point } from '@/lib/calc/interpolate'

describe('interpolateMonotone', () => {
  // RPN 14 radiochemical data of Fritsch & Carlson, SIAM J. Numer. Anal. 17 (1980), table 1, from memory: they
  // rise, so the curve must.
  const rpn14: Point[] = [
    [7.99, 0],
    [8.09, 2.764_29e-5],
    [8.19, 4.374_98e-2],
    [8.7, 0.169_183],
    [9.2, 0.469_428],
    [10, 0.943_74],
    [12, 0.998_636],
    [15, 0.999_919],
    [20, 0.999_994],
  ]

  test('passes through every knot of the published example and never falls between them', () => {
    for (const [x, y] of rpn14) expect(interpolateMonotone(rpn14, x)).toBe(y)
    const samples = Array.from({ length: 1201 }, (_, i) =>
      interpolateMonotone(rpn14, 7.99 + (12.01 * i) / 1200),
    )
    for (const [i, y] of samples.entries()) expect(y).toBeGreaterThanOrEqual(samples[i - 1] ?? 0)
  })

  test('reproduces a straight line', () => {
    expect(
      interpolateMonotone(
        [
          [0, 1],
          [1, 3],
          [4, 9],
        ],
        2.5,
      ),
    ).toBeCloseTo(6, 12)
    expect(
      interpolateMonotone(
        [
          [0, 1],
          [2, 5],
        ],
        0.5,
      ),
    ).toBeCloseTo(2, 12)
  })

  // By hand: knots 0, 1, 3 with slopes 1 and 2; harmonic mean (w 5 and 4) at 1 is 9/7; end slopes 2/3, 7/3;
  // at 0.5 Hermite gives 0.5 + (2/3 - 9/7)/8.
  test('gives the value that the formula gives by hand', () => {
    expect(
      interpolateMonotone(
        [
          [0, 0],
          [1, 1],
          [3, 5],
        ],
        0.5,
      ),
    ).toBeCloseTo(0.5 + (2 / 3 - 9 / 7) / 8, 12)
  })

  test.each([-0.01, 3.01, Number.NaN])('does not extrapolate to %d', (x) => {
    expect(() =>
      interpolateMonotone(
        [
          [0, 0],
          [1, 1],
          [3, 5],
        ],
        x,
      ),
    ).toThrow(CalcError)
  })

  test('refuses knots that do not rise', () => {
    expect(() =>
      interpolateMonotone(
        [
          [0, 0],
          [0, 1],
          [3, 5],
        ],
        1,
      ),
    ).toThrow(expect.objectContaining({ code: 'WRONG_ORDER' }))
  })

  test('stays between the neighbouring knots for any data', () => {
    const knots = fc.array(
      fc.tuple(
        fc.double({ min: 0.1, max: 9, noNaN: true }),
        fc.double({ min: -50, max: 50, noNaN: true }),
      ),
      {
        minLength: 2,
        maxLength: 9,
      },
    )
    fc.assert(
      fc.property(knots, fc.double({ min: 0, max: 1, noNaN: true }), (steps, share) => {
        const points = steps.map(
          ([, y], i): Point => [steps.slice(0, i + 1).reduce((sum, [width]) => sum + width, 0), y],
        )
        const [first, last] = [points[0], points.at(-1)] as [Point, Point]
        const x = Math.min(last[0], first[0] + share * (last[0] - first[0]))
        const right = Math.max(
          1,
          points.findIndex((point) => point[0] >= x),
        )
        const pair = [points[right - 1]?.[1] ?? 0, points[right]?.[1] ?? 0]
        const y = interpolateMonotone(points, x)
        expect(y).toBeGreaterThanOrEqual(Math.min(...pair))
        expect(y).toBeLessThanOrEqual(Math.max(...pair))
      }),
      { numRuns: 300 },
    )
  })
})

test('interpolateHeld draws straight lines and holds the ends', () => {
  const points: Point[] = [
    [6, 4],
    [25, 17.5],
  ]
  expect(interpolateHeld(points, 15.5)).toBeCloseTo(10.75, 12)
  expect(interpolateHeld(points, 1)).toBe(4)
  expect(interpolateHeld(points, 99)).toBe(17.5)
})
