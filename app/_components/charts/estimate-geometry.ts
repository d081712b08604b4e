import type { Scale } from '../bar/scale'
import { xOf } from '../bar/scale'
import type { Shape } from '../bar/shapes'
import { span } from '../bar/shapes'
import type { UncertainEnd } from '../bar/teeth'
import { teeth } from '../bar/teeth'

export interface EstimateBarInput {
  readonly scale: Scale
  readonly estimate: Readonly<{ low: number; middle: number; high: number }>
  /** What was used, with its real quantiles; null while nothing has been read. */
  readonly used: UncertainEnd | null
  /** Hatch the part past the estimate's high end. */
  readonly isOverShown?: boolean
}

export const ESTIMATE_BAR_PX = { box: 10, gap: 2, ink: 10, height: 22 } as const

/** An outline box with a middle line, over an ink bar with teeth. */
export function estimateShapes({
  scale,
  estimate,
  used,
  isOverShown = false,
}: EstimateBarInput): Shape[] {
  const px = (value: number) => Math.min(xOf(scale, value), scale.widthPx)
  const [low, middle, high] = [px(estimate.low), px(estimate.middle), px(estimate.high)]
  const box: Shape[] = [
    {
      kind: 'frame',
      part: 'outline',
      paint: 'bar',
      strokePx: 1.5,
      x: low,
      y: 0,
      width: Math.max(high - low, 4),
      height: ESTIMATE_BAR_PX.box,
    },
    ...span('middle', 'bar', {
      from: middle - 0.75,
      to: middle + 0.75,
      y: 0,
      height: ESTIMATE_BAR_PX.box,
    }),
  ]
  return used ? [...box, ...usedShapes({ scale, high, used, isOverShown })] : box
}

function usedShapes({
  scale,
  high,
  used,
  isOverShown,
}: {
  scale: Scale
  high: number
  used: UncertainEnd
  isOverShown: boolean
}): Shape[] {
  const y = ESTIMATE_BAR_PX.box + ESTIMATE_BAR_PX.gap
  const height = ESTIMATE_BAR_PX.ink
  const px = (value: number) => xOf(scale, value)
  const set = teeth({ end: used, px, isStudied: false })
  const solidPx = Math.min(Math.max(px(set.solidTo), 2), scale.widthPx)
  const isOver = isOverShown && solidPx - high >= 4
  const over: Shape[] = isOver
    ? [
        {
          kind: 'frame',
          part: 'over',
          paint: 'heat',
          strokePx: 1.5,
          isHatched: true,
          x: high + 1,
          y,
          width: solidPx - high - 1,
          height,
        },
      ]
    : []
  const marks = set.marks.filter(
    (mark) => px(mark.value) > solidPx && px(mark.value) < scale.widthPx,
  )
  return [
    ...span('ink', 'bar', { from: 0, to: isOver ? high : solidPx, y, height }),
    ...over,
    ...marks.flatMap((mark) =>
      span(mark.isMiddle ? 'middle' : 'tooth', mark.isMiddle ? 'ink' : 'bar', {
        from: px(mark.value) - 1,
        to: px(mark.value) + 1,
        y,
        height,
      }),
    ),
  ]
}
