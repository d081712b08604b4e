import type { Shape } from './shapes'
import { span } from './shapes'
import type { UncertainEnd } from './teeth'
import { teeth } from './teeth'

/** The standing watch: `y = 0` at torch out, the floor begins at `heightPx`. */
export interface StandingWatchInput {
  readonly startMs: number
  readonly endMs: number
  readonly nowMs: number
  readonly roundsMs: readonly number[]
  readonly addedFromMs?: number
  /** Nobody on watch: slices instead of flame. */
  readonly isPaused?: boolean
  readonly heightPx: number
}

export const WATCH_WIDTH_PX = 48
const FLAME_PX = 4
const KERF_PX = 4
const LEAST_PIECE_PX = 4
const LEAST_INK_PX = 2

/** Where a moment stands on the watch, px from torch out. */
export function watchY(
  input: Pick<StandingWatchInput, 'startMs' | 'endMs' | 'heightPx'>,
  ms: number,
): number {
  return ((ms - input.startMs) / (input.endMs - input.startMs)) * input.heightPx
}

export function standingWatchShapes(input: StandingWatchInput): Shape[] {
  const { heightPx, nowMs } = input
  const isOver = nowMs >= input.endMs
  const nowY = Math.min(Math.max(watchY(input, nowMs), 0), heightPx)
  const rounds = [...input.roundsMs].sort((a, b) => a - b)
  const shapes: Shape[] = [
    ...span('cap', 'spent', { from: -6, to: WATCH_WIDTH_PX + 6, y: -1, height: 2 }),
    ...sides(nowY),
    ...rounds
      .filter((ms) => ms < nowMs)
      .flatMap((ms) =>
        span('round-done', 'spent', {
          from: 2,
          to: WATCH_WIDTH_PX - 2,
          y: watchY(input, ms) - 1,
          height: 2,
        }),
      ),
  ]
  if (isOver) return [...shapes, ...floor(heightPx)]
  if (!input.isPaused)
    shapes.push(
      ...span('flame', 'flame', {
        from: -8,
        to: WATCH_WIDTH_PX + 8,
        y: nowY - FLAME_PX / 2,
        height: FLAME_PX,
      }),
    )
  return [...shapes, ...leftToWatch(input, nowY, rounds), ...floor(heightPx)]
}

function sides(toY: number): Shape[] {
  return [0, WATCH_WIDTH_PX - 1.5].flatMap((x) =>
    span('past', 'spent', { from: x, to: x + 1.5, y: 0, height: toY }),
  )
}

function floor(y: number): Shape[] {
  return span('floor', 'ink', { from: -8, to: WATCH_WIDTH_PX + 8, y, height: 3 })
}

const block = (part: 'ink' | 'slice', from: number, to: number) =>
  span(part, 'bar', { from: 0, to: WATCH_WIDTH_PX, y: from, height: to - from })

function leftToWatch(input: StandingWatchInput, nowY: number, rounds: readonly number[]): Shape[] {
  const { heightPx, addedFromMs } = input
  const hasAdded = addedFromMs !== undefined && addedFromMs < input.endMs
  const paused = input.isPaused
    ? [0, 7].flatMap((y) => block('slice', nowY + y, Math.min(nowY + y + 4, heightPx)))
    : []
  const fromY = nowY + (input.isPaused ? 14 : FLAME_PX / 2 + KERF_PX)
  const ownEnd = hasAdded ? Math.max(watchY(input, addedFromMs), nowY) : heightPx
  const ink: Shape[] = []
  let at = fromY
  for (const y of rounds.filter((ms) => ms >= input.nowMs).map((ms) => watchY(input, ms))) {
    if (y - 1 - at < LEAST_PIECE_PX || ownEnd - (y + 1) < LEAST_PIECE_PX) continue
    ink.push(...block('ink', at, y - 1))
    at = y + 1
  }
  const last = hasAdded ? ownEnd : Math.max(ownEnd, at + LEAST_INK_PX)
  ink.push(...block('ink', Math.min(at, heightPx - LEAST_INK_PX), last))
  return [...paused, ...ink, ...(hasAdded ? added(Math.max(ownEnd + 4, fromY), heightPx - 3) : [])]
}

function added(fromY: number, toY: number): Shape[] {
  const top = Math.min(fromY, toY - LEAST_INK_PX)
  const height = toY - top
  if (height < 12) return span('added', 'heat', { from: 0, to: WATCH_WIDTH_PX, y: top, height })
  return [
    {
      kind: 'frame',
      part: 'added',
      paint: 'heat',
      strokePx: 2,
      x: 0,
      y: top,
      width: WATCH_WIDTH_PX,
      height,
    },
    ...span('added-ink', 'bar', {
      from: 5,
      to: WATCH_WIDTH_PX - 5,
      y: top + 5,
      height: height - 10,
    }),
  ]
}

/** The standing vessel: `y = 0` at the top of its body, the floor begins at `heightPx`. */
export interface StandingVesselInput {
  /** What it holds; without it, nobody has read it. */
  readonly contents?: UncertainEnd
  readonly full: number
  readonly isRunning: boolean
  readonly heightPx: number
}

export const VESSEL_WIDTH_PX = 34
/** Room above the body for the neck. */
export const VESSEL_NECK_PX = 10
const OUTLINE_PX = 1.5
const INSET_PX = 4

export function standingVesselShapes(input: StandingVesselInput): Shape[] {
  const shell = vesselShell(input.heightPx)
  if (!input.contents) {
    return [
      ...shell,
      {
        kind: 'text',
        part: 'mark',
        paint: 'ink',
        text: '?',
        x: VESSEL_WIDTH_PX / 2,
        y: input.heightPx / 2,
      },
    ]
  }
  const room = input.heightPx - OUTLINE_PX
  const px = (value: number) =>
    input.heightPx - (Math.min(Math.max(value, 0), input.full) / input.full) * room
  const set = teeth({ end: input.contents, px, isStudied: false })
  const least = input.contents.p50 > 0 ? input.heightPx - LEAST_INK_PX : input.heightPx
  const top = Math.min(px(set.solidTo), least)
  const inside = { from: INSET_PX, to: VESSEL_WIDTH_PX - INSET_PX }
  const marks = set.marks.filter((mark) => px(mark.value) <= top)
  const highest = set.isSquare ? top : px(input.contents.p95) - 1
  return [
    ...shell,
    ...span('ink', 'bar', { ...inside, y: top, height: input.heightPx - top }),
    ...marks.flatMap((mark) =>
      span(mark.isMiddle ? 'middle' : 'tooth', mark.isMiddle ? 'ink' : 'bar', {
        ...inside,
        y: px(mark.value) - 1,
        height: 2,
      }),
    ),
    ...(input.isRunning
      ? span('flame', 'flame', { from: 0, to: VESSEL_WIDTH_PX, y: highest - 5, height: 3 })
      : []),
  ]
}

function vesselShell(heightPx: number): Shape[] {
  const half = OUTLINE_PX / 2
  const right = VESSEL_WIDTH_PX - half
  return [
    {
      kind: 'frame',
      part: 'neck',
      paint: 'spent',
      strokePx: OUTLINE_PX,
      x: (VESSEL_WIDTH_PX - 11.5) / 2,
      y: -VESSEL_NECK_PX,
      width: 11.5,
      height: 7.5,
    },
    {
      kind: 'polygon',
      part: 'past',
      paint: 'spent',
      strokePx: OUTLINE_PX,
      isOpen: true,
      points: [
        [half, heightPx],
        [half, 3],
        [3, half],
        [right + half - 3, half],
        [right, 3],
        [right, heightPx],
      ],
    },
    ...span('floor', 'ink', { from: -3, to: VESSEL_WIDTH_PX + 3, y: heightPx, height: 2 }),
  ]
}
