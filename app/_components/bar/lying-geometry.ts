import type { Left } from './lying-left'
import { left } from './lying-left'
import { clampTo, flame, KERF_PX, LEAST_PIECE_PX, past, WALL_PX, wall, wallAt } from './lying-marks'
import type { Frame, LyingInput } from './lying-types'
import { xOf } from './scale'
import type { Shape } from './shapes'
import { span } from './shapes'

const LEAST_OUTLINE_PX = 12
const NO_READING_PX = 56

/** Every shape of a lying bar, left to right, with y = 0 at the top of the ink. */
export function lyingShapes(input: LyingInput): Shape[] {
  const frame: Frame = { ...input, nowPx: clampTo(input.scale, xOf(input.scale, input.now)) }
  const { bar } = input
  switch (bar.state) {
    case 'running':
      return [
        ...past(frame, bar.start),
        ...flame(frame),
        ...left(frame, bar, frame.nowPx + KERF_PX),
      ]
    case 'held':
    case 'paused':
      return [...past(frame, bar.start), ...slices(frame, bar)]
    case 'stopped':
      return [
        ...past(frame, bar.start),
        ...wall(frame, bar.stoppedAt),
        ...flame(frame),
        ...left(frame, bar, frame.nowPx + KERF_PX),
      ]
    case 'shut':
      return left(frame, bar, frame.nowPx)
    case 'not-begun':
      return outline(frame, bar)
    case 'past-end':
      return pastEnd(frame, bar)
    case 'closed':
      return closed(frame, bar)
    case 'no-reading':
      return noReading(frame)
  }
}

/** Held and paused: two 4 px slices and 3 px gaps, then ink. No flame: nobody is burning this. */
function slices(frame: Frame, bar: Left): Shape[] {
  const limitPx =
    typeof bar.end === 'number' ? xOf(frame.scale, bar.end) : xOf(frame.scale, bar.end.p05)
  const toPx = Math.min(limitPx, frame.scale.widthPx)
  const cut = [0, 7].flatMap((offset) =>
    span('slice', 'bar', {
      from: frame.nowPx + offset,
      to: Math.min(frame.nowPx + offset + 4, toPx),
      y: 0,
      height: frame.heightPx,
    }),
  )
  const fromPx = frame.nowPx + 14
  return toPx <= fromPx ? [...cut, ...wallAt(frame, toPx)] : [...cut, ...left(frame, bar, fromPx)]
}

function outline(frame: Frame, bar: { start: number; end: number }): Shape[] {
  const x = clampTo(frame.scale, xOf(frame.scale, bar.start))
  const width = clampTo(frame.scale, xOf(frame.scale, bar.end)) - x
  if (width <= 0) return []
  return [
    {
      kind: 'frame',
      part: 'outline',
      paint: 'bar',
      strokePx: 2,
      x,
      y: 0,
      width: Math.max(width, LEAST_PIECE_PX),
      height: frame.heightPx,
    },
  ]
}

function pastEnd(frame: Frame, bar: { start?: number; end: number }): Shape[] {
  const endPx = xOf(frame.scale, bar.end)
  const wallPx = Math.max(endPx, 0)
  const box = {
    x: wallPx + WALL_PX + 1,
    y: 0,
    width: frame.nowPx - 1 - (wallPx + WALL_PX + 1),
    height: frame.heightPx,
  }
  const over: Shape[] =
    box.width < LEAST_PIECE_PX
      ? span('over', 'heat', {
          from: wallPx + WALL_PX,
          to: Math.max(frame.nowPx - 1, wallPx + WALL_PX + 1),
          y: 0,
          height: frame.heightPx,
        })
      : [{ kind: 'frame', part: 'over', paint: 'heat', strokePx: 2, isHatched: true, ...box }]
  const line = endPx > 0 ? [...past(frame, bar.start, endPx), ...wallAt(frame, endPx)] : []
  return [...line, ...over, ...flame(frame, Math.max(frame.nowPx, wallPx + WALL_PX + 2))]
}

/** Nothing is left: only the line it burnt along, and a tick where it ended. */
function closed(frame: Frame, bar: { start: number; end: number }): Shape[] {
  const endPx = clampTo(frame.scale, xOf(frame.scale, bar.end))
  return [
    ...past(frame, bar.start, endPx),
    ...span('cap', 'spent', { from: endPx - 2, to: endPx, y: 0, height: frame.heightPx }),
  ]
}

function noReading(frame: Frame): Shape[] {
  const width = Math.min(NO_READING_PX, frame.scale.widthPx - frame.nowPx)
  if (width < LEAST_OUTLINE_PX) return []
  return [
    {
      kind: 'frame',
      part: 'outline',
      paint: 'spent',
      strokePx: 1.5,
      x: frame.nowPx,
      y: 0,
      width,
      height: frame.heightPx,
    },
    {
      kind: 'text',
      part: 'mark',
      paint: 'ink',
      text: '?',
      x: frame.nowPx + width / 2,
      y: frame.heightPx / 2,
    },
  ]
}
