import { describe, expect, test } from 'vitest'
import type { Shape } from '@/app/_components/bar/shapes'
import { standingVesselShapes, standingWatchShapes } from '@/app/_components/bar/standing-geometry'

const MINUTE = 60_000
const START = Date.UTC(2026, 3, 13, 16, 52)
const minutesIn = (minutes: number) => START + minutes * MINUTE
const rows = (shapes: readonly Shape[], part: Shape['part']) =>
  shapes.flatMap((shape) =>
    shape.part === part && shape.kind !== 'polygon' && shape.kind !== 'text'
      ? [[shape.y, shape.y + shape.height]]
      : [],
  )

describe('a standing watch, ten px a minute', () => {
  const watch = {
    startMs: START,
    endMs: minutesIn(65),
    nowMs: minutesIn(36),
    roundsMs: [10, 20, 30, 40, 50, 60].map(minutesIn),
    addedFromMs: minutesIn(60),
    heightPx: 650,
  }

  test('has a 4 px flame at now and 4 px of paper under it', () => {
    const shapes = standingWatchShapes(watch)
    expect(rows(shapes, 'flame')).toEqual([[358, 362]])
    expect(rows(shapes, 'ink')[0]?.[0]).toBe(366)
  })

  test('marks past rounds with a line and coming ones with a notch', () => {
    const shapes = standingWatchShapes(watch)
    expect(rows(shapes, 'round-done')).toHaveLength(3)
    expect(rows(shapes, 'ink')).toEqual([
      [366, 399],
      [401, 499],
      [501, 600],
    ])
  })

  test('sets added minutes 4 px apart and 3 px over the floor', () => {
    const shapes = standingWatchShapes(watch)
    expect(rows(shapes, 'added')).toEqual([[604, 647]])
    expect(rows(shapes, 'floor')).toEqual([[650, 653]])
  })

  test('shows slices instead of a flame while nobody watches', () => {
    const shapes = standingWatchShapes({ ...watch, isPaused: true })
    expect(rows(shapes, 'flame')).toEqual([])
    expect(rows(shapes, 'slice')).toEqual([
      [360, 364],
      [367, 371],
    ])
  })

  test('has neither ink nor flame once it is over', () => {
    const shapes = standingWatchShapes({ ...watch, nowMs: minutesIn(70) })
    expect(rows(shapes, 'ink')).toEqual([])
    expect(rows(shapes, 'flame')).toEqual([])
    expect(rows(shapes, 'floor')).toEqual([[650, 653]])
  })

  test('keeps ink while seconds are left', () => {
    const shapes = standingWatchShapes({
      startMs: START,
      endMs: minutesIn(60),
      nowMs: minutesIn(59.99),
      roundsMs: [],
      heightPx: 400,
    })
    const [last] = rows(shapes, 'ink')
    expect((last?.[1] ?? 0) - (last?.[0] ?? 0)).toBeGreaterThanOrEqual(2)
  })
})

describe('a standing vessel of 118 px', () => {
  const half = { p05: 96, p275: 111, p50: 120, p725: 129, p95: 144 }

  test('is solid to the low end and has its flame over the high end', () => {
    const shapes = standingVesselShapes({
      contents: half,
      full: 244,
      isRunning: true,
      heightPx: 118,
    })
    const high = 118 - (144 / 244) * 116.5
    expect(rows(shapes, 'ink')[0]?.[0]).toBeCloseTo(118 - (96 / 244) * 116.5, 6)
    expect(rows(shapes, 'flame')[0]?.[1]).toBeCloseTo(high - 3, 6)
  })

  test('is square when the interval is under 6 px', () => {
    const shapes = standingVesselShapes({
      contents: { p05: 80, p275: 83, p50: 86, p725: 88, p95: 92 },
      full: 244,
      isRunning: false,
      heightPx: 118,
    })
    expect(rows(shapes, 'ink')[0]?.[0]).toBeCloseTo(118 - (86 / 244) * 116.5, 6)
    expect(rows(shapes, 'tooth')).toEqual([])
  })

  test('says that nobody has read it', () => {
    const shapes = standingVesselShapes({ full: 244, isRunning: false, heightPx: 118 })
    expect(rows(shapes, 'ink')).toEqual([])
    expect(shapes).toContainEqual(expect.objectContaining({ kind: 'text', text: '?' }))
  })
})
