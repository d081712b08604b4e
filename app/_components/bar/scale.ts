const MINUTE_MS = 60_000
const HOUR_MS = 60 * MINUTE_MS

/** Phone axes keep "now" here, so that it is always in the same place. */
export const PHONE_NOW_PX = 24
export const PHONE_WIDTH_PX = 328
const PHONE_PX_PER_HOUR = 60

/** A straight map from a value (milliseconds, days, ft³) to px from the axis's left edge. */
export interface Scale {
  readonly start: number
  readonly pxPerUnit: number
  readonly widthPx: number
}

export function xOf(scale: Scale, value: number): number {
  return (value - scale.start) * scale.pxPerUnit
}

/** Phone: now at 24 px, 60 px an hour. A wider axis shows more hours. */
export function phoneScale({
  nowMs,
  widthPx = PHONE_WIDTH_PX,
}: Readonly<{ nowMs: number; widthPx?: number }>): Scale {
  const pxPerUnit = PHONE_PX_PER_HOUR / HOUR_MS
  return { start: nowMs - PHONE_NOW_PX / pxPerUnit, pxPerUnit, widthPx }
}

/** Desk, open permit, gas audit: a fixed range over the whole width. */
export function rangeScale({
  from,
  to,
  widthPx,
}: Readonly<{ from: number; to: number; widthPx: number }>): Scale {
  if (!(to > from)) throw new RangeError('rangeScale needs to > from')
  return { start: from, pxPerUnit: widthPx / (to - from), widthPx }
}

export interface Tick {
  readonly value: number
  readonly x: number
}

/** Ticks at every `step` from `first` on that fall on the axis. `first` carries the zone's offset. */
export function ticksOn(
  scale: Scale,
  { first, step }: Readonly<{ first: number; step: number }>,
): Tick[] {
  const end = scale.start + scale.widthPx / scale.pxPerUnit
  const skipped = Math.max(0, Math.ceil((scale.start - first) / step - 1e-9))
  const count = Math.max(0, Math.floor((end - first) / step + 1e-9) - skipped + 1)
  return Array.from({ length: count }, (_, index) => {
    const value = first + (skipped + index) * step
    return { value, x: xOf(scale, value) }
  })
}
