import { describe, expect, test } from 'vitest'
import { lyingShapes } from '@/app/_components/bar/lying-geometry'
import type { LyingBar } from '@/app/_components/bar/lying-types'
import { phoneScale } from '@/app/_components/bar/scale'
import type { Shape } from '@/app/_components/bar/shapes'

const MINUTE = 60_000
const NOW = Date.UTC(2026, 3, 13, 17, 28)
const inMinutes = (minutes: number) => NOW + minutes * MINUTE

/** A phone row: now at 24 px, one px a minute. */
const draw = (bar: LyingBar, { heightPx = 20, isStudied = false } = {}) =>
  lyingShapes({ bar, scale: phoneScale({ nowMs: NOW }), now: NOW, heightPx, isStudied })

function boxes(shapes: readonly Shape[], part: Shape['part']) {
  return shapes.flatMap((shape) =>
    shape.part === part && (shape.kind === 'rect' || shape.kind === 'frame')
      ? [[shape.x, shape.x + shape.width]]
      : [],
  )
}
const near = (pairs: readonly (readonly [number, number])[]) =>
  pairs.map(([from, to]) => [expect.closeTo(from, 6), expect.closeTo(to, 6)])

describe('a running bar with a certain end', () => {
  const shapes = draw({ state: 'running', end: inMinutes(182) })

  test('has a 3 px flame that ends at now, 2 px of paper, ink to the end and a 2 px wall', () => {
    expect(boxes(shapes, 'past')).toEqual(near([[0, 20]]))
    expect(boxes(shapes, 'flame')).toEqual(near([[21, 24]]))
    expect(boxes(shapes, 'ink')).toEqual(near([[26, 206]]))
    expect(boxes(shapes, 'wall')).toEqual(near([[206, 208]]))
  })

  test('lets flame and wall reach 3 px over the ink on both sides', () => {
    const tall = shapes.filter((shape) => shape.part === 'flame' || shape.part === 'wall')
    expect(tall.map((shape) => (shape.kind === 'rect' ? [shape.y, shape.height] : null))).toEqual([
      [-3, 26],
      [-3, 26],
    ])
  })

  test('keeps 2 px of ink while anything is left', () => {
    expect(boxes(draw({ state: 'running', end: inMinutes(0.2) }), 'ink')).toEqual(near([[26, 28]]))
  })

  test('ends torn at the axis edge when it runs off the scale', () => {
    const off = draw({ state: 'running', end: inMinutes(700) })
    expect(boxes(off, 'wall')).toEqual([])
    expect(boxes(off, 'ink')).toEqual(near([[26, 323]]))
    expect(off.at(-1)).toMatchObject({
      part: 'torn',
      points: [
        [323, 0],
        [328, 5],
        [323, 10],
        [328, 15],
        [323, 20],
      ],
    })
  })
})

describe('a watch', () => {
  const rounds = [inMinutes(4), inMinutes(14), inMinutes(24)]

  test('is notched at each round to come, but not where a piece would be under 4 px', () => {
    const shapes = draw({ state: 'running', end: inMinutes(29), rounds, addedFrom: inMinutes(24) })
    expect(boxes(shapes, 'ink')).toEqual(
      near([
        [26, 37],
        [39, 48],
      ]),
    )
  })

  test('sets added minutes apart by 2 px, all in heat while they are under 12 px wide', () => {
    const [added] = draw({
      state: 'running',
      end: inMinutes(29),
      rounds,
      addedFrom: inMinutes(24),
    }).filter((s) => s.part === 'added')
    expect(added).toMatchObject({ kind: 'rect', paint: 'heat', x: 50 })
  })

  test('frames added minutes that are wide enough, ink inside after 2 px of paper', () => {
    const shapes = draw({ state: 'running', end: inMinutes(60), addedFrom: inMinutes(30) })
    expect(boxes(shapes, 'added')).toEqual(near([[56, 83]]))
    expect(boxes(shapes, 'added-ink')).toEqual(near([[60, 79]]))
    expect(boxes(shapes, 'wall')).toEqual(near([[84, 86]]))
  })

  test('shows slices and no flame while nobody watches', () => {
    const shapes = draw({ state: 'paused', end: inMinutes(60) })
    expect(boxes(shapes, 'slice')).toEqual(
      near([
        [24, 28],
        [31, 35],
      ]),
    )
    expect(boxes(shapes, 'ink')).toEqual(near([[38, 84]]))
    expect(boxes(shapes, 'flame')).toEqual([])
  })
})

describe('an end that is not certain', () => {
  const oxygen = {
    p05: inMinutes(40),
    p275: inMinutes(47.5),
    p50: inMinutes(52),
    p725: inMinutes(58),
    p95: inMinutes(69),
  }

  test('is solid to the low end, then has teeth at the real quantiles, the middle one 4 px taller', () => {
    const shapes = draw({ state: 'running', end: oxygen })
    expect(boxes(shapes, 'ink')).toEqual(near([[26, 64]]))
    expect(boxes(shapes, 'tooth')).toEqual(
      near([
        [70.5, 72.5],
        [81, 83],
        [92, 94],
      ]),
    )
    expect(shapes.find((shape) => shape.part === 'middle')).toMatchObject({
      y: -4,
      height: 28,
      paint: 'ink',
    })
  })

  test('has a dashed box from the high end to when the cuts would be done, with a wall there', () => {
    const shapes = draw({ state: 'running', end: oxygen, shortUntil: inMinutes(114) })
    expect(boxes(shapes, 'short')).toEqual(near([[97.25, 138]]))
    expect(boxes(shapes, 'wall')).toEqual(near([[138, 140]]))
  })

  test('is not short when even the high end is late enough', () => {
    expect(
      boxes(draw({ state: 'running', end: oxygen, shortUntil: inMinutes(60) }), 'short'),
    ).toEqual([])
  })

  test('keeps only the middle and the high tooth where teeth would stand closer than 3 px', () => {
    const shapes = draw({
      state: 'running',
      end: {
        p05: inMinutes(40),
        p275: inMinutes(42),
        p50: inMinutes(44),
        p725: inMinutes(46),
        p95: inMinutes(50),
      },
    })
    expect(boxes(shapes, 'tooth')).toEqual(near([[73, 75]]))
    expect(boxes(shapes, 'middle')).toEqual(near([[67, 69]]))
  })

  test('is square at the number printed when the interval is under 6 px', () => {
    const shapes = draw({
      state: 'running',
      end: {
        p05: inMinutes(40),
        p275: inMinutes(41),
        p50: inMinutes(42),
        p725: inMinutes(43),
        p95: inMinutes(45),
      },
    })
    expect(boxes(shapes, 'ink')).toEqual(near([[26, 66]]))
    expect(boxes(shapes, 'wall')).toEqual(near([[66, 68]]))
    expect(boxes(shapes, 'tooth')).toEqual([])
  })

  test('shows ten chances on a chart that can be studied', () => {
    const tenths = [60, 80, 92, 100, 107, 114, 121, 130, 141, 160].map(inMinutes)
    const end = {
      p05: inMinutes(60),
      p275: inMinutes(95),
      p50: inMinutes(110),
      p725: inMinutes(126),
      p95: inMinutes(160),
      tenths,
    }
    expect(boxes(draw({ state: 'running', end }, { isStudied: true }), 'tooth')).toHaveLength(9)
    expect(boxes(draw({ state: 'running', end }), 'tooth')).toHaveLength(3)
  })
})

describe('the other states', () => {
  test('held: two slices, then ink, no flame, and it goes on burning from now', () => {
    const shapes = draw({ state: 'held', end: inMinutes(182) }, { heightPx: 12 })
    expect(boxes(shapes, 'slice')).toEqual(
      near([
        [24, 28],
        [31, 35],
      ]),
    )
    expect(boxes(shapes, 'ink')).toEqual(near([[38, 206]]))
    expect(boxes(shapes, 'flame')).toEqual([])
  })

  test('shut: plain ink from now, no flame, no past line', () => {
    const shapes = draw({ state: 'shut', end: inMinutes(100) })
    expect(boxes(shapes, 'ink')).toEqual(near([[24, 124]]))
    expect(boxes(shapes, 'flame')).toEqual([])
    expect(boxes(shapes, 'past')).toEqual([])
  })

  test('not begun: an outline from start to end', () => {
    expect(
      boxes(draw({ state: 'not-begun', start: inMinutes(60), end: inMinutes(180) }), 'outline'),
    ).toEqual(near([[84, 204]]))
  })

  test('past its end: a wall at the end, a hatched box up to now, the flame at now', () => {
    const shapes = draw({ state: 'past-end', end: inMinutes(-15) })
    expect(boxes(shapes, 'wall')).toEqual(near([[9, 11]]))
    expect(boxes(shapes, 'over')).toEqual(near([[12, 23]]))
    expect(shapes.find((shape) => shape.part === 'over')).toMatchObject({
      isHatched: true,
      strokePx: 2,
    })
    expect(boxes(shapes, 'flame')).toEqual(near([[24, 27]]))
  })

  test('past an end that lies before the axis: the box begins at the edge, without a wall', () => {
    const shapes = draw({ state: 'past-end', end: inMinutes(-500) })
    expect(boxes(shapes, 'wall')).toEqual([])
    expect(boxes(shapes, 'over')).toEqual(near([[3, 23]]))
  })

  test('stopped: a wall at the stop, then the owed watch as a running bar', () => {
    const shapes = draw({ state: 'stopped', stoppedAt: inMinutes(-17), end: inMinutes(43) })
    expect(boxes(shapes, 'wall')).toEqual(
      near([
        [7, 9],
        [67, 69],
      ]),
    )
    expect(boxes(shapes, 'flame')).toEqual(near([[21, 24]]))
  })

  test('no reading: no ink, an outline with a question mark', () => {
    const shapes = draw({ state: 'no-reading' })
    expect(boxes(shapes, 'ink')).toEqual([])
    expect(shapes).toContainEqual(expect.objectContaining({ kind: 'text', text: '?' }))
  })
})
