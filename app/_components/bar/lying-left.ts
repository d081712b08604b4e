import { KERF_PX, LEAST_INK_PX, LEAST_PIECE_PX, WALL_PX, wallAt } from './lying-marks'
import type { BarEnd, Frame, Watched } from './lying-types'
import { xOf } from './scale'
import type { Shape } from './shapes'
import { span } from './shapes'
import type { UncertainEnd } from './teeth'
import { teeth } from './teeth'

const NOTCH_PX = 2
const LEAST_FRAME_PX = 12
const LEAST_ADDED_PX = 4.5
const TORN_PX = 5

export type Left = Readonly<{ end: BarEnd; shortUntil?: number } & Watched>

/** What is left from a point on: to a certain end, or to the teeth of one that is not. */
export function left(frame: Frame, bar: Left, fromPx: number): Shape[] {
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
  const short =
    bar.shortUntil === undefined ? [] : shortBox(frame, wallPx + WALL_PX - 1, bar.shortUntil)
  if (bar.addedFrom === undefined || bar.addedFrom >= bar.end) {
    return [
      ...pieces(frame, { fromPx, toPx: wallPx, rounds: bar.rounds }),
      ...wallAt(frame, wallPx),
      ...short,
    ]
  }
  // However short, added minutes stay to be seen before the wall.
  const addedPx = Math.max(Math.min(xOf(scale, bar.addedFrom), wallPx - LEAST_ADDED_PX), fromPx)
  return [
    ...pieces(frame, { fromPx, toPx: addedPx, rounds: bar.rounds }),
    ...addedPiece({
      fromPx: addedPx > fromPx ? addedPx + KERF_PX : fromPx,
      toPx: wallPx,
      heightPx,
    }),
    ...wallAt(frame, wallPx),
    ...short,
  ]
}

function addedPiece({
  fromPx,
  toPx,
  heightPx,
}: {
  fromPx: number
  toPx: number
  heightPx: number
}): Shape[] {
  if (toPx - 1 - fromPx < LEAST_FRAME_PX) {
    return span('added', 'heat', {
      from: fromPx,
      to: Math.max(toPx - 0.5, fromPx + LEAST_INK_PX),
      y: 0,
      height: heightPx,
    })
  }
  const frame: Shape = {
    kind: 'frame',
    part: 'added',
    paint: 'heat',
    strokePx: 2,
    x: fromPx,
    y: 0,
    width: toPx - 1 - fromPx,
    height: heightPx,
  }
  return [
    frame,
    ...span('added-ink', 'bar', { from: fromPx + 4, to: toPx - 5, y: 4, height: heightPx - 8 }),
  ]
}

/** Ink cut by a notch at each round, leaving a notch out where a piece would be under 4 px. */
function pieces(
  frame: Frame,
  {
    fromPx,
    toPx,
    rounds = [],
  }: { fromPx: number; toPx: number; rounds?: readonly number[] | undefined },
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

/** Two teeth at the axis edge: it goes on where nothing can be drawn. */
function tornEdge({ scale, heightPx: h }: Frame): Shape {
  const basePx = scale.widthPx - TORN_PX
  const points = [
    [basePx, 0],
    [scale.widthPx, h / 4],
    [basePx, h / 2],
    [scale.widthPx, (3 * h) / 4],
    [basePx, h],
  ] as const
  return { kind: 'polygon', part: 'torn', paint: 'bar', points }
}

function torn(frame: Frame, bar: Left, fromPx: number): Shape[] {
  const basePx = frame.scale.widthPx - TORN_PX
  const rounds = bar.rounds?.filter((round) => xOf(frame.scale, round) < basePx)
  return [...pieces(frame, { fromPx, toPx: basePx, rounds }), tornEdge(frame)]
}

function leftToTeeth(frame: Frame, bar: Left & { end: UncertainEnd }, fromPx: number): Shape[] {
  const { scale, heightPx, isStudied = false } = frame
  const px = (value: number) => xOf(scale, value)
  if (px(bar.end.p05) > scale.widthPx) return torn(frame, bar, fromPx)
  const set = teeth({ end: bar.end, px, isStudied })
  const inkEnd = Math.max(px(set.solidTo), bar.end.p50 > frame.now ? fromPx + LEAST_INK_PX : fromPx)
  const solid = span('ink', 'bar', {
    from: fromPx,
    to: Math.min(inkEnd, scale.widthPx),
    y: 0,
    height: heightPx,
  })
  // An end that may lie past the axis must not look square: it is not certain.
  const isPast = !set.isSquare && px(bar.end.p95) > scale.widthPx
  const highPx = set.isSquare ? inkEnd + WALL_PX - 1 : px(bar.end.p95)
  return [
    ...solid,
    ...(set.isSquare ? wallAt(frame, inkEnd) : []),
    ...set.marks
      .filter((mark) => px(mark.value) >= inkEnd)
      .flatMap((mark) => tooth(frame, px(mark.value), mark.isMiddle)),
    ...(isPast ? [tornEdge(frame)] : []),
    ...(set.hasWedge ? wedge(frame, px(bar.end.p50)) : []),
    ...(bar.shortUntil === undefined ? [] : shortBox(frame, highPx, bar.shortUntil)),
  ]
}

function tooth({ scale, heightPx }: Frame, x: number, isMiddle: boolean): Shape[] {
  if (x + 1 > scale.widthPx) return []
  const reach = isMiddle ? 4 : 0
  return span(isMiddle ? 'middle' : 'tooth', isMiddle ? 'ink' : 'bar', {
    from: x - 1,
    to: x + 1,
    y: -reach,
    height: heightPx + 2 * reach,
  })
}

function wedge({ scale }: Frame, x: number): Shape[] {
  if (x > scale.widthPx) return []
  return [
    {
      kind: 'polygon',
      part: 'wedge',
      paint: 'ink',
      points: [
        [x - 4, -8],
        [x + 4, -8],
        [x, -2],
      ],
    },
  ]
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
    return [
      ...span('short', 'heat', { from: highPx + 1, to: toPx, y: 0, height: heightPx }),
      ...end,
    ]
  }
  const box = { x: fromPx, y: 0.25, width: toPx - fromPx, height: heightPx - 0.5 }
  return [
    { kind: 'frame', part: 'short', paint: 'heat', strokePx: 1.5, dash: [4, 3], ...box },
    ...end,
  ]
}
