import { type Scale, xOf } from '../bar/scale'

export type ContentsPoint = Readonly<{
  atMs: number
  value: number
  low: number
  high: number
  isNamed: boolean
}>

export const CONTENTS_CHART = { heightPx: 220, leftPx: 48, topPx: 12, footPx: 26 }

/** Where everything of the chart stands, in pixels: time across, contents up. */
export function contentsShapes(input: {
  series: readonly (readonly ContentsPoint[])[]
  time: Scale
  top: number
}) {
  const { heightPx, topPx, footPx, leftPx } = CONTENTS_CHART
  const floor = heightPx - footPx
  const y = (value: number) => floor - (value / input.top) * (floor - topPx)
  const x = (ms: number) => leftPx + xOf(input.time, ms)
  return {
    floor,
    y,
    x,
    series: input.series.map((points) => ({
      line: points
        .map(
          (one, i) => `${i === 0 ? 'M' : 'L'}${x(one.atMs).toFixed(1)} ${y(one.value).toFixed(1)}`,
        )
        .join(''),
      points: points.map((one) => ({
        key: `${one.atMs} ${one.value}`,
        x: x(one.atMs),
        y: y(one.value),
        low: y(Math.max(0, one.low)),
        high: y(Math.min(input.top, one.high)),
        isNamed: one.isNamed,
      })),
    })),
  }
}
