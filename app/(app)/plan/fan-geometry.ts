/** Room of the fan in its own units: a phone has a drawing of its own, so that words stay as large as others. */
export const FANS = {
  phone: { width: 328, height: 236, left: 26, right: 6, top: 30, bottom: 46, every: 3, type: 14 },
  desk: { width: 960, height: 320, left: 88, right: 28, top: 30, bottom: 88, every: 1, type: 14 },
} as const
export type FanSize = keyof typeof FANS

export type FanShapes = Readonly<{
  /** Nine in ten, and half, as closed paths; the middle and the low edge as lines. */
  pale: string
  dark: string
  middle: string
  low: string
  /** The middle if nothing is done. */
  nothing: string
  ticks: readonly Readonly<{ y: number; value: number }>[]
  xOf: (day: number) => number
  yOf: (cylinders: number) => number
  floorY: number
}>

/** A step of 1, 2 or 5 and noughts, so that at most five lines are drawn. */
function stepFor(most: number): number {
  const power = 10 ** Math.floor(Math.log10(Math.max(1, most) / 5))
  const step = [1, 2, 5, 10].find((one) => one * power * 5 >= most) ?? 10
  return Math.max(1, step * power)
}

/**
 * The fan of what is left, day by day; straight from day to day, nothing smoothed.
 *
 * @param known what is left by day at 5, 27.5, 50, 72.5 and 95 %, the middle if nothing is done, and what is at hand now
 * @param size of the drawing
 */
export function fanShapes(
  known: Readonly<{
    left: readonly (readonly number[])[]
    nothing: readonly number[]
    atStart: number
  }>,
  size: FanSize,
): FanShapes {
  const FAN = FANS[size]
  const { left, nothing, atStart } = known
  const days = left.length
  const most = Math.max(1, atStart, ...left.map((day) => day[4] ?? 0))
  const step = stepFor(most)
  const top = Math.ceil(most / step) * step
  const floorY = FAN.height - FAN.bottom
  const xOf = (day: number) => FAN.left + ((day + 1) / days) * (FAN.width - FAN.left - FAN.right)
  const yOf = (cylinders: number) => floorY - (cylinders / top) * (floorY - FAN.top)
  const point = (day: number, cylinders: number) =>
    `${xOf(day).toFixed(1)} ${yOf(cylinders).toFixed(1)}`
  const path = (at: number) => [point(-1, atStart), ...left.map((day, i) => point(i, day[at] ?? 0))]
  const band = (low: number, high: number) =>
    `M${[...path(high), ...path(low).toReversed()].join('L')}Z`
  return {
    pale: band(0, 4),
    dark: band(1, 3),
    middle: `M${path(2).join('L')}`,
    low: `M${path(0).join('L')}`,
    nothing: `M${[point(-1, atStart), ...nothing.map((value, i) => point(i, value))].join('L')}`,
    ticks: Array.from({ length: Math.round(top / step) + 1 }, (_, i) => ({
      value: i * step,
      y: yOf(i * step),
    })),
    xOf,
    yOf,
    floorY,
  }
}
