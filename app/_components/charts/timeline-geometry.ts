import type { Scale } from '../bar/scale'
import { xOf } from '../bar/scale'
import type { Shape } from '../bar/shapes'
import { span } from '../bar/shapes'

/** One stretch of a permit's life on the clock. */
export interface TimelineBand {
  readonly kind: 'preparing' | 'cleared' | 'open' | 'held' | 'watch' | 'added' | 'monitored'
  readonly fromMs: number
  readonly toMs: number
}

export interface TimelineInput {
  readonly scale: Scale
  readonly bands: readonly TimelineBand[]
  /** The end wall: closed, stopped or withdrawn. */
  readonly endMs?: number
}

export const BAND_HEIGHT_PX = 26
/** Between two bands, so that each keeps its own edge. */
const SEAM_PX = 2

type Box = { x: number; width: number }

const DRAW: Readonly<Record<TimelineBand['kind'], (box: Box) => Shape[]>> = {
  preparing: (box) => [frame(box, { dash: [4, 3] })],
  cleared: (box) => [frame(box, {})],
  open: ({ x, width }) =>
    span('band', 'bar', { from: x, to: x + width, y: 0, height: BAND_HEIGHT_PX }),
  held: (box) => [...heldSlices(box), ...wedge(box, { top: 14, leftOver: 3 }), ...edges(box, 14)],
  watch: (box) => [...wedge(box, { top: 0, leftOver: 1 }), ...edges(box, 0).slice(0, 1)],
  added: (box) => [
    {
      kind: 'frame',
      part: 'added',
      paint: 'heat',
      strokePx: 2,
      ...box,
      y: 0,
      height: BAND_HEIGHT_PX,
    },
  ],
  monitored: (box) => [
    ...span('band', 'bar', {
      from: box.x,
      to: box.x + box.width,
      y: BAND_HEIGHT_PX - 6,
      height: 6,
    }),
    ...edges(box, 0),
  ],
}

function frame(box: Box, extra: { dash?: readonly [number, number] }): Shape {
  return {
    kind: 'frame',
    part: 'outline',
    paint: 'ink',
    strokePx: 2,
    ...box,
    y: 0,
    height: BAND_HEIGHT_PX,
    ...extra,
  }
}

/** A hold: slices above, since validity goes on burning. */
function heldSlices({ x, width }: Box): Shape[] {
  const count = Math.floor((width + 4) / 8)
  return Array.from({ length: count }, (_, index) =>
    span('slice', 'bar', { from: x + index * 8, to: x + index * 8 + 4, y: 0, height: 11 }),
  ).flat()
}

/** A watch burns down as a wedge. */
function wedge({ x, width }: Box, { top, leftOver }: { top: number; leftOver: number }): Shape[] {
  const floor = BAND_HEIGHT_PX
  return [
    {
      kind: 'polygon',
      part: 'wedge',
      paint: 'bar',
      points: [
        [x, top],
        [x + width, floor - leftOver],
        [x + width, floor],
        [x, floor],
      ],
    },
  ]
}

function edges({ x, width }: Box, top: number): Shape[] {
  return [x, x + width - 1.5].flatMap((at) =>
    span('wall', 'ink', { from: at, to: at + 1.5, y: top, height: BAND_HEIGHT_PX - top }),
  )
}

/** The permit's whole life as one band, in the status patterns, `y = 0` at the band's top. */
export function timelineShapes({ scale, bands, endMs }: TimelineInput): Shape[] {
  const shapes = bands.flatMap((band) => {
    const from = Math.max(xOf(scale, band.fromMs), 0)
    const to = Math.min(xOf(scale, band.toMs), scale.widthPx)
    const width = Math.max(to - from - SEAM_PX, 2)
    return to < 0 || from > scale.widthPx ? [] : DRAW[band.kind]({ x: from, width })
  })
  if (endMs === undefined) return shapes
  const endPx = xOf(scale, endMs)
  return [
    ...shapes,
    ...span('wall', 'ink', { from: endPx, to: endPx + 2.5, y: -4, height: BAND_HEIGHT_PX + 8 }),
  ]
}

/** The widest a letter of a label is, near enough: labels are measured before they are drawn. */
const LETTER_PX = 7.4

/** A label begins at its moment, or as far left of it as it needs to stay on the page. */
export function labelX({
  x,
  text,
  widthPx,
}: Readonly<{ x: number; text: string; widthPx: number }>): number {
  return Math.max(0, Math.min(x, widthPx - text.length * LETTER_PX))
}

/** Labels over the band that would run into the one before are left out; their rows below say them. */
export function labelsThatFit<T extends { readonly x: number; readonly text: string }>(
  labels: readonly T[],
): T[] {
  const kept: T[] = []
  for (const label of labels) {
    const before = kept.at(-1)
    if (before && label.x < before.x + before.text.length * LETTER_PX + 8) continue
    kept.push(label)
  }
  return kept
}
