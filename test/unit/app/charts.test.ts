import { describe, expect, test } from 'vitest'
import { rangeScale, ticksOn } from '@/app/_components/bar/scale'
import { estimateShapes } from '@/app/_components/charts/estimate-geometry'
import { labelsThatFit, timelineShapes } from '@/app/_components/charts/timeline-geometry'

describe('estimate beside usage', () => {
  const scale = { start: 0, pxPerUnit: 0.25, widthPx: 400 }
  const estimate = { low: 400, middle: 480, high: 600 }
  const used = { p05: 720, p275: 760, p50: 780, p725: 800, p95: 840 }

  test('is an outline box with a middle line over ink that is solid to the low end', () => {
    const shapes = estimateShapes({ scale, estimate, used })
    expect(shapes.find((shape) => shape.part === 'outline')).toMatchObject({ x: 100, width: 50 })
    expect(shapes.find((shape) => shape.part === 'ink')).toMatchObject({ x: 0, width: 180 })
  })

  test('hatches what was used past the high end of the estimate', () => {
    const shapes = estimateShapes({ scale, estimate, used, isOverShown: true })
    expect(shapes.find((shape) => shape.part === 'ink')).toMatchObject({ width: 150 })
    expect(shapes.find((shape) => shape.part === 'over')).toMatchObject({
      x: 151,
      width: 29,
      isHatched: true,
    })
  })

  test('shows the estimate alone while nothing has been read', () => {
    expect(estimateShapes({ scale, estimate, used: null }).map((shape) => shape.part)).toEqual([
      'outline',
      'middle',
    ])
  })
})

describe('the timeline', () => {
  const HOUR = 3_600_000
  const scale = rangeScale({ from: 0, to: 10 * HOUR, widthPx: 1000 })

  test('draws each stretch on the clock and a wall where the permit ended', () => {
    const shapes = timelineShapes({
      scale,
      bands: [
        { kind: 'open', fromMs: HOUR, toMs: 4 * HOUR },
        { kind: 'watch', fromMs: 4 * HOUR, toMs: 5 * HOUR },
      ],
      endMs: 5 * HOUR,
    })
    expect(shapes.find((shape) => shape.part === 'band')).toMatchObject({ x: 100, width: 298 })
    expect(shapes.find((shape) => shape.part === 'wedge')).toMatchObject({
      points: [
        [400, 0],
        [498, 25],
        [498, 26],
        [400, 26],
      ],
    })
    expect(shapes.at(-1)).toMatchObject({ part: 'wall', x: 500 })
  })

  test('leaves out a label that would run into the one before', () => {
    const labels = [
      { x: 0, text: 'Preparing' },
      { x: 20, text: 'Cleared' },
      { x: 200, text: 'Open 06:48' },
    ]
    expect(labelsThatFit(labels).map((label) => label.text)).toEqual(['Preparing', 'Open 06:48'])
  })
})

test('ticks stand at every step from the first that fall on the axis', () => {
  const scale = rangeScale({ from: 90, to: 300, widthPx: 210 })
  expect(ticksOn(scale, { first: 0, step: 60 })).toEqual([
    { value: 120, x: 30 },
    { value: 180, x: 90 },
    { value: 240, x: 150 },
    { value: 300, x: 210 },
  ])
})
