import type { Frame } from './lying-types'
import type { Scale } from './scale'
import { xOf } from './scale'
import type { Shape } from './shapes'
import { span } from './shapes'

const FLAME_PX = 3
export const KERF_PX = 2
export const WALL_PX = 2
export const LEAST_PIECE_PX = 4
export const LEAST_INK_PX = 2
const REACH_PX = 3

export const clampTo = (scale: Scale, x: number) => Math.min(Math.max(x, 0), scale.widthPx)

export function past(
  frame: Frame,
  start: number | undefined,
  endPx = frame.nowPx - FLAME_PX - 1,
): Shape[] {
  const from = start === undefined ? 0 : clampTo(frame.scale, xOf(frame.scale, start))
  return span('past', 'spent', { from, to: endPx, y: frame.heightPx - 2, height: 2 })
}

export function flame(frame: Frame, fromPx = frame.nowPx - FLAME_PX): Shape[] {
  return span('flame', 'flame', {
    from: fromPx,
    to: fromPx + FLAME_PX,
    y: -REACH_PX,
    height: frame.heightPx + 2 * REACH_PX,
  })
}

export function wallAt(frame: Frame, x: number): Shape[] {
  const from = Math.min(x, frame.scale.widthPx - WALL_PX)
  if (from < 0) return []
  return span('wall', 'ink', {
    from,
    to: from + WALL_PX,
    y: -REACH_PX,
    height: frame.heightPx + 2 * REACH_PX,
  })
}

export const wall = (frame: Frame, value: number) => wallAt(frame, xOf(frame.scale, value))
