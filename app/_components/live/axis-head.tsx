'use client'

import { useTranslations } from 'next-intl'
import { formatAxisHour, formatClock, formatWeekday } from '@/lib/format/clock'
import { atHourOfDay, startOfHour } from '@/lib/format/zone'
import type { Tick } from '../bar/scale'
import { PHONE_NOW_PX, ticksOn, xOf } from '../bar/scale'
import { useAxis } from './axis'
import { usePrefs } from './prefs'

const HOUR_MS = 3_600_000
const DAY_MS = 24 * HOUR_MS
const LABEL_ROOM_PX = 32

function NowWedge({ x }: Readonly<{ x: number }>) {
  return (
    <svg
      className="now-wedge"
      style={{ left: x - 8.5 }}
      width="14"
      height="9"
      viewBox="0 0 14 9"
      aria-hidden="true"
      focusable="false"
    >
      <path d="M0 0h14L7 9z" fill="var(--flame)" />
    </svg>
  )
}

/** Phone: "Now" always in the same place, the hours sliding under it. */
export function PhoneAxisHead() {
  const t = useTranslations('kit.axis')
  const prefs = usePrefs()
  const { scale, nowMs } = useAxis()
  const ticks = ticksOn(scale, { first: startOfHour(nowMs, prefs.timeZone), step: HOUR_MS })
  const isClear = (tick: Tick) =>
    tick.x > PHONE_NOW_PX + LABEL_ROOM_PX - 2 && tick.x < scale.widthPx - 12
  return (
    <div className="axis-head axis-head-phone">
      <div className="axis-room" data-axis-width="">
        <span className="axis-now">{t('now')}</span>
        <span className="sr-only">{formatClock(nowMs, prefs)}</span>
        <NowWedge x={PHONE_NOW_PX} />
        {ticks
          .filter((tick) => tick.x > PHONE_NOW_PX + 4)
          .map((tick) => (
            <span
              key={tick.value}
              className="axis-tick"
              style={{ left: tick.x }}
              aria-hidden="true"
            >
              {isClear(tick) ? <span>{formatAxisHour(tick.value, prefs)}</span> : null}
            </span>
          ))}
      </div>
    </div>
  )
}

type DeskAxisHeadProps = Readonly<{
  /** Hours between labels, or 'days': one label a day, in its middle. */
  step: 1 | 2 | 4 | 'days'
  hasWedge?: boolean
}>

/** Desk: a fixed axis over a column; "now" moves along it. Stands in the axis column's head cell. */
export function DeskAxisHead({ step, hasWedge = true }: DeskAxisHeadProps) {
  const prefs = usePrefs()
  const { scale, nowMs } = useAxis()
  const dayStart = atHourOfDay(scale.start, prefs.timeZone, 0)
  const stepMs = step === 'days' ? DAY_MS : step * HOUR_MS
  const first = step === 'days' ? dayStart + DAY_MS : startOfHour(scale.start, prefs.timeZone)
  const nowPx = xOf(scale, nowMs)
  return (
    <div className="axis-head" data-axis-width="" aria-hidden="true">
      {ticksOn(scale, { first, step: stepMs }).map((tick) => (
        <span
          key={tick.value}
          className={`axis-tick ${step === 'days' ? 'axis-tick-day' : ''}`}
          style={{ left: tick.x }}
        >
          {tick.x < scale.widthPx - 24 ? (
            <span style={step === 'days' ? { left: (DAY_MS * scale.pxPerUnit) / 2 } : undefined}>
              {step === 'days'
                ? formatWeekday(tick.value + HOUR_MS, prefs)
                : formatAxisHour(tick.value, prefs)}
            </span>
          ) : null}
        </span>
      ))}
      {hasWedge && nowPx >= 0 && nowPx <= scale.widthPx ? <NowWedge x={nowPx} /> : null}
    </div>
  )
}
