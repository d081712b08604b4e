'use client'

import { ticksOn } from '@/app/_components/bar/scale'
import { useAxis } from '@/app/_components/live/axis'
import { usePrefs } from '@/app/_components/live/prefs'
import { formatAxisHour } from '@/lib/format/clock'
import { startOfHour } from '@/lib/format/zone'

const HOUR_MS = 3_600_000
const LABEL_PX = 58

/** Hours under the bar, as many as have room for their words. */
export function AxisFoot() {
  const prefs = usePrefs()
  const { scale } = useAxis()
  const hourPx = HOUR_MS * scale.pxPerUnit
  const stepH = [1, 2, 3, 4, 6, 12].find((hours) => hours * hourPx >= LABEL_PX) ?? 24
  const first = startOfHour(scale.start, prefs.timeZone)
  const isClear = (x: number) => x > 18 && x < scale.widthPx - 18
  return (
    <div data-axis-width="" className="relative mt-1 h-6" aria-hidden="true">
      {ticksOn(scale, { first, step: stepH * HOUR_MS })
        .filter((tick) => isClear(tick.x))
        .map((tick) => (
          <span
            key={tick.value}
            className="absolute top-0 h-[5px] w-[1.5px] bg-ink-2"
            style={{ left: tick.x }}
          >
            <span className="absolute top-[6px] -translate-x-1/2 whitespace-nowrap text-[14px] leading-4 text-ink-2">
              {formatAxisHour(tick.value, prefs)}
            </span>
          </span>
        ))}
    </div>
  )
}
