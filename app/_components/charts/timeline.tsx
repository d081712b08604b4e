'use client'

import { useTranslations } from 'next-intl'
import { useEffect, useId, useRef, useState } from 'react'
import { formatAxisHour } from '@/lib/format/clock'
import { startOfHour } from '@/lib/format/zone'
import { rangeScale, ticksOn, xOf } from '../bar/scale'
import { SvgShapes } from '../bar/svg-shapes'
import { usePrefs } from '../live/prefs'
import type { TimelineBand } from './timeline-geometry'
import { BAND_HEIGHT_PX, labelsThatFit, labelX, timelineShapes } from './timeline-geometry'

const HOUR_MS = 3_600_000
const BAND_TOP_PX = 26
const LINE_PX = BAND_TOP_PX + BAND_HEIGHT_PX + 14
const HEIGHT_PX = LINE_PX + 30

export interface TimelineEvent {
  readonly atMs: number
  readonly kind: 'cut' | 'round' | 'late-round'
}

export interface TimelineLabel {
  readonly atMs: number
  readonly text: string
  readonly isTrouble?: boolean
}

type TimelineProps = Readonly<{
  bands: readonly TimelineBand[]
  events: readonly TimelineEvent[]
  /** Over the band: "Open 06:48", "Closed 14:37". */
  labels: readonly TimelineLabel[]
  endMs?: number
  widthPx?: number
}>

/** A permit's whole life as one band on the clock; the entries below it say the same. */
export function Timeline({ bands, events, labels, endMs, widthPx: drawnPx = 1272 }: TimelineProps) {
  const t = useTranslations('kit.timeline')
  const prefs = usePrefs()
  const id = useId()
  const room = useRef<HTMLDivElement>(null)
  const [widthPx, setWidthPx] = useState(drawnPx)
  useEffect(() => {
    const node = room.current
    if (!node) return
    const observer = new ResizeObserver(() => setWidthPx(Math.max(node.clientWidth, 240)))
    observer.observe(node)
    return () => observer.disconnect()
  }, [])
  const moments = [
    ...bands.flatMap((band) => [band.fromMs, band.toMs]),
    ...(endMs === undefined ? [] : [endMs]),
  ]
  const fromMs = startOfHour(Math.min(...moments), prefs.timeZone)
  const scale = rangeScale({
    from: fromMs,
    to: Math.max(Math.max(...moments) + HOUR_MS / 2, fromMs + HOUR_MS),
    widthPx,
  })
  const hours = Math.ceil(60 / scale.pxPerUnit / HOUR_MS)
  const placed = labelsThatFit(
    labels.map((label) => ({
      ...label,
      x: labelX({ x: xOf(scale, label.atMs), text: label.text, widthPx }),
    })),
  )
  return (
    <div className="timeline" ref={room}>
      <svg className="bar" width={widthPx} height={HEIGHT_PX} aria-hidden="true" focusable="false">
        {placed.map((label) => (
          <text
            key={`${label.atMs}-${label.text}`}
            x={label.x}
            y={14}
            className={label.isTrouble ? 'is-trouble' : ''}
          >
            {label.text}
          </text>
        ))}
        <g transform={`translate(0 ${BAND_TOP_PX})`}>
          <SvgShapes
            shapes={timelineShapes({ scale, bands, ...(endMs === undefined ? {} : { endMs }) })}
            id={id}
          />
        </g>
        <Events events={events} x={(ms) => xOf(scale, ms)} />
        <path d={`M0 ${LINE_PX}H${widthPx}`} stroke="var(--ink)" strokeWidth="2" />
        {ticksOn(scale, { first: fromMs, step: hours * HOUR_MS }).map((tick) => (
          <g key={tick.value} className="timeline-hour">
            <path d={`M${tick.x} ${LINE_PX}v7`} stroke="var(--ink-2)" strokeWidth="1.5" />
            <text x={tick.x} y={LINE_PX + 22} textAnchor={tick.x < 12 ? 'start' : 'middle'}>
              {formatAxisHour(tick.value, prefs)}
            </text>
          </g>
        ))}
      </svg>
      <p className="timeline-key">{t('key')}</p>
    </div>
  )
}

function Events({
  events,
  x,
}: Readonly<{ events: readonly TimelineEvent[]; x: (ms: number) => number }>) {
  return events.map((event) => {
    const at = x(event.atMs)
    const key = `${event.kind}-${event.atMs}`
    if (event.kind === 'cut')
      return <path key={key} d={`M${at} ${LINE_PX - 9}v8`} stroke="var(--ink)" strokeWidth="2" />
    if (event.kind === 'round')
      return <circle key={key} cx={at} cy={LINE_PX - 6} r="3.5" fill="var(--ink)" />
    return (
      <g key={key} stroke="var(--heat)" strokeWidth="1.6" fill="none">
        <circle cx={at} cy={LINE_PX - 6} r="5" />
        <path d={`M${at - 3.4} ${LINE_PX - 2.6}l6.8 -6.8`} />
      </g>
    )
  })
}
