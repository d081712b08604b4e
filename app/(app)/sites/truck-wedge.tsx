'use client'

import { xOf } from '@/app/_components/bar/scale'
import { useAxis } from '@/app/_components/live/axis'

/** Open wedges above a bar where ordered cylinders are due. */
export function TruckWedges({
  atMs,
  topPx = -9,
}: Readonly<{ atMs: readonly number[]; topPx?: number }>) {
  const { scale } = useAxis()
  return atMs
    .map((ms) => xOf(scale, ms))
    .filter((x) => x >= 0 && x <= scale.widthPx)
    .map((x) => (
      <svg
        key={x}
        className="absolute"
        style={{ left: x - 6, top: topPx }}
        width="12"
        height="8"
        viewBox="0 0 12 8"
        aria-hidden="true"
        focusable="false"
      >
        <path d="M1 1h10L6 7z" fill="var(--paper)" stroke="var(--ink)" strokeWidth="1.2" />
      </svg>
    ))
}
