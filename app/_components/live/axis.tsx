'use client'

import type { ReactNode } from 'react'
import { createContext, useContext, useEffect, useRef, useState } from 'react'
import type { Scale } from '../bar/scale'
import { PHONE_WIDTH_PX, phoneScale, rangeScale, xOf } from '../bar/scale'
import { useServerNow } from './server-now'

/** The phone's axis slides with now; a fixed one runs from a moment to a moment. */
export type AxisKind = Readonly<{ kind: 'phone' } | { kind: 'fixed'; fromMs: number; toMs: number }>

interface Axis {
  readonly scale: Scale
  readonly nowMs: number
  readonly kind: AxisKind
}

const AxisContext = createContext<Axis | null>(null)

export function useAxis(): Axis {
  const axis = useContext(AxisContext)
  if (!axis) throw new Error('a live bar needs a ClockAxis above it')
  return axis
}

function scaleOf(axis: AxisKind, nowMs: number, widthPx: number): Scale {
  return axis.kind === 'phone'
    ? phoneScale({ nowMs, widthPx })
    : rangeScale({ from: axis.fromMs, to: axis.toMs, widthPx })
}

interface Room {
  readonly widthPx: number
  /** Where the axis begins in its holder, and where its head ends. */
  readonly leftPx: number
  readonly bottomPx: number
}

/** Measures the head (or probe) that gives the axis its width, and again when the page changes size. */
function useRoom(widthPx: number) {
  const holder = useRef<HTMLDivElement>(null)
  const [room, setRoom] = useState<Room>({ widthPx, leftPx: 0, bottomPx: 0 })
  useEffect(() => {
    const outer = holder.current
    const probe = outer?.querySelector('[data-axis-width]')
    if (!outer || !probe) return
    const measure = () => {
      const [box, base] = [probe.getBoundingClientRect(), outer.getBoundingClientRect()]
      if (box.width === 0) return // not shown at this size of screen
      setRoom({ widthPx: box.width, leftPx: box.left - base.left, bottomPx: box.bottom - base.top })
    }
    measure()
    const observer = new ResizeObserver(measure)
    observer.observe(probe)
    observer.observe(outer)
    return () => observer.disconnect()
  }, [])
  return { holder, room }
}

type ClockAxisProps = Readonly<{
  axis: AxisKind
  /** What the server draws, before the browser has measured: the look's own width. */
  widthPx?: number
  /** Desk: one flame line down everything in it, hairlines stopping 8 px each side. */
  hasNowLine?: boolean
  children: ReactNode
}>

/** One "now" for every bar inside it. The AxisHead within, or whatever has data-axis-width, gives the axis its width. */
export function ClockAxis({
  axis,
  widthPx = PHONE_WIDTH_PX,
  hasNowLine = false,
  children,
}: ClockAxisProps) {
  const nowMs = useServerNow()
  const { holder, room } = useRoom(widthPx)
  const scale = scaleOf(axis, nowMs, room.widthPx)
  return (
    <AxisContext value={{ scale, nowMs, kind: axis }}>
      <div ref={holder} className="clock-axis">
        {children}
        {hasNowLine ? <NowLine room={room} nowPx={xOf(scale, nowMs)} /> : null}
      </div>
    </AxisContext>
  )
}

function NowLine({ room, nowPx }: Readonly<{ room: Room; nowPx: number }>) {
  if (room.bottomPx === 0 || nowPx < 0 || nowPx > room.widthPx) return null
  const x = room.leftPx + nowPx
  return (
    <>
      <span
        className="now-gap"
        style={{ left: x - 8, top: room.bottomPx + 2 }}
        aria-hidden="true"
      />
      <span className="now-line" style={{ left: x - 2.1, top: room.bottomPx }} aria-hidden="true" />
    </>
  )
}
