const MINUTE_MS = 60_000

/**
 * How long to wait before the next redraw: to the next whole minute of the clock, or, in the last
 * minute before `untilMs`, to the next whole second.
 */
export function nextTickMs({
  nowMs,
  untilMs,
}: Readonly<{ nowMs: number; untilMs?: number | undefined }>): number {
  const isLastMinute = untilMs !== undefined && untilMs - nowMs <= MINUTE_MS && untilMs > nowMs
  const step = isLastMinute ? 1000 : MINUTE_MS
  const toStep = step - (nowMs % step)
  const toLastMinute =
    untilMs === undefined ? Number.POSITIVE_INFINITY : untilMs - MINUTE_MS - nowMs
  return Math.max(20, toLastMinute > 0 ? Math.min(toStep, toLastMinute) : toStep)
}

/** Which of the marks 10, 5 and 1 minutes lies between two redraws, and 0 for the end itself; null for none. */
export function crossedMark({
  wasLeftMs,
  leftMs,
}: Readonly<{ wasLeftMs: number; leftMs: number }>): 10 | 5 | 1 | 0 | null {
  for (const mark of [0, 1, 5, 10] as const) {
    if (wasLeftMs > mark * MINUTE_MS && leftMs <= mark * MINUTE_MS) return mark
  }
  return null
}
