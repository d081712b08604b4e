'use client'

import { type RefObject, useCallback, useLayoutEffect, useState } from 'react'

/** Rows drawn beyond each edge, so that a quick scroll shows no gap. */
const SPARE = 8

interface RowWindow {
  readonly from: number
  readonly to: number
  readonly topPx: number
  readonly bottomPx: number
  readonly onScroll: () => void
  /** Brings a row into sight. */
  readonly show: (index: number) => void
}

/** Which rows of a long list are worth drawing, in a box that scrolls by itself. */
export function useWindow(
  room: RefObject<HTMLElement | null>,
  { count, rowPx, headPx }: Readonly<{ count: number; rowPx: number; headPx: number }>,
): RowWindow {
  const [view, setView] = useState({ top: 0, height: 640 })
  const measure = useCallback(() => {
    const box = room.current
    if (box) setView({ top: box.scrollTop, height: box.clientHeight })
  }, [room])
  useLayoutEffect(() => {
    measure()
    const box = room.current
    if (!box) return
    const watcher = new ResizeObserver(measure)
    watcher.observe(box)
    return () => watcher.disconnect()
  }, [room, measure])
  const from = Math.max(0, Math.floor(view.top / rowPx) - SPARE)
  const to = Math.min(count, Math.ceil((view.top + view.height) / rowPx) + SPARE)
  const show = (index: number) => {
    const box = room.current
    if (!box) return
    const [top, bottom] = [index * rowPx, (index + 1) * rowPx + headPx]
    if (top < box.scrollTop) box.scrollTop = top
    else if (bottom > box.scrollTop + box.clientHeight) box.scrollTop = bottom - box.clientHeight
    measure()
  }
  return {
    from: Math.min(from, to),
    to,
    topPx: Math.min(from, to) * rowPx,
    bottomPx: (count - to) * rowPx,
    onScroll: measure,
    show,
  }
}
