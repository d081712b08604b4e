'use client'

import type { ReactNode } from 'react'
import { xOf } from '@/app/_components/bar/scale'
import { useAxis } from '@/app/_components/live/axis'
import { PastEnd } from '@/app/_components/row'

/** The words of a long duration fit before the end, over the columns left of the axis; else behind now. */
const ROOM_PX = 190
const GAP_PX = 8
const AFTER_NOW_PX = 12

/** Reversed words beside a bar that is past its end, as near to it as they fit. */
export function PastLabel({ endMs, children }: Readonly<{ endMs: number; children: ReactNode }>) {
  const { scale, nowMs } = useAxis()
  const endPx = Math.max(0, xOf(scale, endMs))
  const place =
    endPx > ROOM_PX
      ? { right: scale.widthPx - endPx + GAP_PX }
      : { left: Math.max(endPx, xOf(scale, nowMs)) + AFTER_NOW_PX }
  return (
    <span
      className="absolute top-1/2 -translate-y-1/2 whitespace-nowrap [&_.past-end]:text-[14px] [&_.past-end]:leading-5"
      style={place}
    >
      <PastEnd>{children}</PastEnd>
    </span>
  )
}
