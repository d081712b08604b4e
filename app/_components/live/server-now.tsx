'use client'

import type { ReactNode } from 'react'
import { createContext, startTransition, useContext, useEffect, useMemo, useState } from 'react'
import { nextTickMs } from './next-tick'

interface ServerClock {
  /** The server's time when it drew this page. */
  readonly drawnMs: number
  /** Server clock minus this device's; null until the browser has measured it. */
  readonly offsetMs: number | null
}

const ServerClockContext = createContext<ServerClock | null>(null)

/**
 * Countdowns follow the server's clock, whatever the phone's says. `serverNowMs` is read while the
 * page is drawn, so every refresh measures the offset anew.
 */
export function ServerNow({
  serverNowMs,
  children,
}: Readonly<{ serverNowMs: number; children: ReactNode }>) {
  const [offsetMs, setOffsetMs] = useState<number | null>(null)
  // As a transition: an urgent change up here would make React throw away a page that is still
  // streaming in and draw it anew, and with it what someone has begun to type.
  useEffect(() => startTransition(() => setOffsetMs(serverNowMs - Date.now())), [serverNowMs])
  const clock = useMemo(() => ({ drawnMs: serverNowMs, offsetMs }), [serverNowMs, offsetMs])
  return <ServerClockContext value={clock}>{children}</ServerClockContext>
}

/** The server's time, redrawn each minute, and each second in the last minute before `untilMs`. */
export function useServerNow(untilMs?: number): number {
  const clock = useContext(ServerClockContext)
  if (!clock) throw new Error('useServerNow needs a ServerNow above it')
  const { drawnMs, offsetMs } = clock
  const [nowMs, setNowMs] = useState(drawnMs)

  useEffect(() => {
    if (offsetMs === null) return
    let timer: ReturnType<typeof setTimeout>
    const redraw = () => {
      const now = Date.now() + offsetMs
      setNowMs(now)
      timer = setTimeout(redraw, nextTickMs({ nowMs: now, untilMs }))
    }
    redraw()
    return () => clearTimeout(timer)
  }, [offsetMs, untilMs])

  return offsetMs === null ? drawnMs : Math.max(nowMs, drawnMs)
}
