import type { Scale } from './scale'
import { xOf } from './scale'
import type { Shape } from './shapes'
import { span } from './shapes'
import type { UncertainEnd } from './teeth'
import { teeth } from './teeth'

export const FLAME_PX = 3
export const KERF_PX = 2
const WALL_PX = 2
const REACH_PX = 3
const NOTCH_PX = 2
const LEAST_PIECE_PX = 4
const LEAST_FRAME_PX = 12
const LEAST_INK_PX = 2
const LEAST_ADDED_PX = 4.5
const TORN_PX = 5
const NO_READING_PX = 56

/** A value on the axis that is certain, or the quantiles of one that is not. */
export type BarEnd = number | UncertainEnd

interface Watched {
  /** Rounds still to come. */
  readonly rounds?: readonly number[]
  /** Where the minutes that were added begin; they run to the end. */
  readonly addedFrom?: number
}

/** One lying bar. `start` is where the past line begins; without it, it begins at the axis's edge. */
export type LyingBar =
  | ({ state: 'running'; start?: number; end: BarEnd; shortUntil?: number } & Watched)
  | ({ state: 'held'; start?: number; end: BarEnd } & Watched)
  | ({ state: 'paused'; start?: number; end: BarEnd } & Watched)
  | ({ state: 'stopped'; start?: number; stoppedAt: number; end: number } & Watched)
  | { state: 'shut'; end: BarEnd; shortUntil?: number }
  | { state: 'not-begun'; start: number; end: number }
  | { state: 'past-end'; start?: number; end: number }
  | { state: 'closed'; start: number; end: number }
  | { state: 'no-reading' }

export interface LyingInput {
  readonly bar: Readonly<LyingBar>
  readonly scale: Scale
  readonly now: number
  readonly heightPx: number
  /** On a chart that a person can study, an interval over 60 px shows ten teeth. */
  readonly isStudied?: boolean
}

interface Frame extends LyingInput {
  readonly nowPx: number
}

const clampTo = (scale: Scale, x: number) => Math.min(Math.max(x, 0), scale.widthPx)

/** Every shape of a lying bar, left to right, with y = 0 at the top of the ink. */
export function lyingShapes(input: LyingInput): Shape[] {
  const frame: Frame = { ...input, nowPx: clampTo(input.scale, xOf(input.scale, input.now)) }
  const { bar } = input
  switch (bar.state) {
    case 'running':
      return [...past(frame, bar.start), ...flame(frame), ...left(frame, bar, frame.nowPx + KERF_PX)]
    case 'held':
    case 'paused':
      return [...past(frame, bar.start), ...slices(frame, bar)]
    case 'stopped':
      return [...past(frame, bar.start), ...wall(frame, bar.stoppedAt), ...flame(frame), ...left(frame, bar, frame.nowPx + KERF_PX)]
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

function past(frame: Frame, start: number | undefined, endPx = frame.nowPx - FLAME_PX - 1): Shape[] {
  const from = start === undefined ? 0 : clampTo(frame.scale, xOf(frame.scale, start))
  return span('past', 'spent', { from, to: endPx, y: frame.heightPx - 2, height: 2 })
}

function flame(frame: Frame, fromPx = frame.nowPx - FLAME_PX): Shape[] {
  return span('flame', 'flame', { from: fromPx, to: fromPx + FLAME_PX, y: -REACH_PX, height: frame.heightPx + 2 * REACH_PX })
}

function wallAt(frame: Frame, x: number): Shape[] {
  const from = Math.min(x, frame.scale.widthPx - WALL_PX)
  if (from < 0) return []
  return span('wall', 'ink', { from, to: from + WALL_PX, y: -REACH_PX, height: frame.heightPx + 2 * REACH_PX })
}

const wall = (frame: Frame, value: number) => wallAt(frame, xOf(frame.scale, value))

type Left = Readonly<{ end: BarEnd; shortUntil?: number } & Watched>

function left(frame: Frame, bar: Left, fromPx: number): Shape[] {
  return typeof bar.end === 'number'
    ? leftToCertain(frame, { ...bar, end: bar.end }, fromPx)
    : leftToTeeth(frame, { ...bar, end: bar.end }, fromPx)
}

function leftToCertain(frame: Frame, bar: Left & { end: number }, fromPx: number): Shape[] {
  const { scale, heightPx } = frame
  const endPx = xOf(scale, bar.end)
  if (endPx > scale.widthPx) return torn(frame, bar, fromPx)
  const leastPx = bar.end > frame.now ? fromPx + LEAST_INK_PX : fromPx
  const wallPx = Math.max(endPx, leastPx)
  const short = bar.shortUntil === undefined ? [] : shortBox(frame, wallPx + WALL_PX - 1, bar.shortUntil)
  if (bar.addedFrom === undefined || bar.addedFrom >= bar.end) {
    return [...pieces(frame, { fromPx, toPx: wallPx, rounds: bar.rounds }), ...wallAt(frame, wallPx), ...short]
  }
  // However short, added minutes stay to be seen before the wall.
  const addedPx = Math.max(Math.min(xOf(scale, bar.addedFrom), wallPx - LEAST_ADDED_PX), fromPx)
  return [
    ...pieces(frame, { fromPx, toPx: addedPx, rounds: bar.rounds }),
    ...addedPiece({ fromPx: addedPx > fromPx ? addedPx + KERF_PX : fromPx, toPx: wallPx, heightPx }),
    ...wallAt(frame, wallPx),
    ...short,
  ]
}

function addedPiece({ fromPx, toPx, heightPx }: { fromPx: number; toPx: number; heightPx: number }): Shape[] {
  if (toPx - 1 - fromPx < LEAST_FRAME_PX) {
    return span('added', 'heat', { from: fromPx, to: Math.max(toPx - 0.5, fromPx + LEAST_INK_PX), y: 0, height: heightPx })
  }
  const frame: Shape = { kind: 'frame', part: 'added', paint: 'heat', strokePx: 2, x: fromPx, y: 0, width: toPx - 1 - fromPx, height: heightPx }
  return [frame, ...span('added-ink', 'bar', { from: fromPx + 4, to: toPx - 5, y: 4, height: heightPx - 8 })]
}

/** Ink cut by a notch at each round, leaving a notch out where a piece would be under 4 px. */
function pieces(
  frame: Frame,
  { fromPx, toPx, rounds = [] }: { fromPx: number; toPx: number; rounds?: readonly number[] | undefined },
): Shape[] {
  const shapes: Shape[] = []
  let at = fromPx
  for (const round of [...rounds].sort((a, b) => a - b)) {
    const notch = xOf(frame.scale, round) - NOTCH_PX / 2
    if (notch - at < LEAST_PIECE_PX || toPx - (notch + NOTCH_PX) < LEAST_PIECE_PX) continue
    shapes.push(...span('ink', 'bar', { from: at, to: notch, y: 0, height: frame.heightPx }))
    at = notch + NOTCH_PX
  }
  return [...shapes, ...span('ink', 'bar', { from: at, to: toPx, y: 0, height: frame.heightPx })]
}

function torn(frame: Frame, bar: Left, fromPx: number): Shape[] {
  const { widthPx } = frame.scale
  const basePx = widthPx - TORN_PX
  const h = frame.heightPx
  const points = [[basePx, 0], [widthPx, h / 4], [basePx, h / 2], [widthPx, (3 * h) / 4], [basePx, h]] as const
  return [
    ...pieces(frame, { fromPx, toPx: basePx, rounds: bar.rounds?.filter((round) => xOf(frame.scale, round) < basePx) }),
    { kind: 'polygon', part: 'torn', paint: 'bar', points },
  ]
}

function leftToTeeth(frame: Frame, bar: Left & { end: UncertainEnd }, fromPx: number): Shape[] {
  const { scale, heightPx, isStudied = false } = frame
  const px = (value: number) => xOf(scale, value)
  if (px(bar.end.p05) > scale.widthPx) return torn(frame, bar, fromPx)
  const set = teeth({ end: bar.end, px, isStudied })
  const inkEnd = Math.max(px(set.solidTo), bar.end.p50 > frame.now ? fromPx + LEAST_INK_PX : fromPx)
  const solid = span('ink', 'bar', { from: fromPx, to: Math.min(inkEnd, scale.widthPx), y: 0, height: heightPx })
  const highPx = set.isSquare ? inkEnd + WALL_PX - 1 : px(bar.end.p95)
  return [
    ...solid,
    ...(set.isSquare ? wallAt(frame, inkEnd) : []),
    ...set.marks.filter((mark) => px(mark.value) >= inkEnd).flatMap((mark) => tooth(frame, px(mark.value), mark.isMiddle)),
    ...(set.hasWedge ? wedge(frame, px(bar.end.p50)) : []),
    ...(bar.shortUntil === undefined ? [] : shortBox(frame, highPx, bar.shortUntil)),
  ]
}

function tooth({ scale, heightPx }: Frame, x: number, isMiddle: boolean): Shape[] {
  if (x + 1 > scale.widthPx) return []
  const reach = isMiddle ? 4 : 0
  return span(isMiddle ? 'middle' : 'tooth', isMiddle ? 'ink' : 'bar', { from: x - 1, to: x + 1, y: -reach, height: heightPx + 2 * reach })
}

function wedge({ scale }: Frame, x: number): Shape[] {
  if (x > scale.widthPx) return []
  return [{ kind: 'polygon', part: 'wedge', paint: 'ink', points: [[x - 4, -8], [x + 4, -8], [x, -2]] }]
}

/** Dashed, from just past the high end to when the cuts still to do would be done. */
function shortBox(frame: Frame, highPx: number, until: number): Shape[] {
  const { scale, heightPx } = frame
  const untilPx = xOf(scale, until)
  const toPx = Math.min(untilPx, scale.widthPx)
  const fromPx = highPx + 4.25
  if (toPx <= highPx + 1) return []
  const end = untilPx > scale.widthPx ? [] : wallAt(frame, untilPx)
  if (toPx - fromPx < LEAST_PIECE_PX) {
    return [...span('short', 'heat', { from: highPx + 1, to: toPx, y: 0, height: heightPx }), ...end]
  }
  const box = { x: fromPx, y: 0.25, width: toPx - fromPx, height: heightPx - 0.5 }
  return [{ kind: 'frame', part: 'short', paint: 'heat', strokePx: 1.5, dash: [4, 3], ...box }, ...end]
}

/** Held and paused: two 4 px slices and 3 px gaps, then ink. No flame: nobody is burning this. */
function slices(frame: Frame, bar: Left): Shape[] {
  const limitPx = typeof bar.end === 'number' ? xOf(frame.scale, bar.end) : xOf(frame.scale, bar.end.p05)
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
  return [{ kind: 'frame', part: 'outline', paint: 'bar', strokePx: 2, x, y: 0, width: Math.max(width, LEAST_PIECE_PX), height: frame.heightPx }]
}

function pastEnd(frame: Frame, bar: { start?: number; end: number }): Shape[] {
  const endPx = xOf(frame.scale, bar.end)
  const wallPx = Math.max(endPx, 0)
  const box = { x: wallPx + WALL_PX + 1, y: 0, width: frame.nowPx - 1 - (wallPx + WALL_PX + 1), height: frame.heightPx }
  const over: Shape[] =
    box.width < LEAST_PIECE_PX
      ? span('over', 'heat', { from: wallPx + WALL_PX, to: Math.max(frame.nowPx - 1, wallPx + WALL_PX + 1), y: 0, height: frame.heightPx })
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
  if (width < LEAST_FRAME_PX) return []
  return [
    { kind: 'frame', part: 'outline', paint: 'spent', strokePx: 1.5, x: frame.nowPx, y: 0, width, height: frame.heightPx },
    { kind: 'text', part: 'mark', paint: 'ink', text: '?', x: frame.nowPx + width / 2, y: frame.heightPx / 2 },
  ]
}
