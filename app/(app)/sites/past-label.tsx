'use client'

import type { ReactNode } from 'react'
import { xOf } from '@/app/_components/bar/scale'
import { useAxis } from '@/app/_components/live/axis'
import { PastEnd } from '@/app/_components/row'

/** What the longest of these words takes, set narrow. */
const WORDS_PX = 230
/** The empty "left" cell before the axis. */
const BEFORE_AXIS_PX = 92
const GAP_PX = 8
const AFTER_NOW_PX = 12

/** Reversed words before or behind a bar that is past its end, never out of the axis's column. */
export function PastLabel({ endMs, children }: Readonly<{ endMs: number; children: ReactNode }>) {
  const { scale, nowMs } = useAxis()
  const endPx = Math.max(0, xOf(scale, endMs))
  const nowPx = Math.max(endPx, xOf(scale, nowMs))
  const isBefore = endPx + BEFORE_AXIS_PX >= WORDS_PX + GAP_PX
  const isAfter = nowPx + AFTER_NOW_PX + WORDS_PX <= scale.widthPx
  const place = isBefore
    ? { right: scale.widthPx - endPx + GAP_PX }
    : isAfter
      ? { left: nowPx + AFTER_NOW_PX }
      : { right: 0 }
  return (
    <span
      className="absolute top-1/2 z-[3] -translate-y-1/2 whitespace-nowrap [&_.past-end]:px-1.5 [&_.past-end]:text-[14px] [&_.past-end]:leading-5 [&_.past-end]:[font-stretch:78%]"
      style={place}
    >
      <PastEnd>{children}</PastEnd>
    </span>
  )
}
