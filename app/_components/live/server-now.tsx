'use client'

import type { ReactNode } from 'react'
import {
  createContext,
  startTransition,
  useCallback,
  useContext,
  useEffect,
  useMemo,
  useState,
} from 'react'
import { offsetOf, withMeasured } from './clock-offset'
import { nextTickMs } from './next-tick'

interface ServerClock {
  /** The server's time when it drew this page. */
  readonly drawnMs: number
  /** Server clock minus this device's; null until the browser has measured it. */
  readonly offsetMs: number | null
  /** Another measurement of that: the server's time less the device's, as it arrived. */
  readonly measured: (offsetMs: number) => void
}

const ServerClockContext = createContext<ServerClock | null>(null)

/**
 * Countdowns follow the server's clock, whatever the phone's says. `serverNowMs` is read while the
 * page is drawn, so every refresh measures the offset; the stream, which is quicker, measures it more nearly.
 */
export function ServerNow({
  serverNowMs,
  children,
}: Readonly<{ serverNowMs: number; children: ReactNode }>) {
  const [measurements, setMeasurements] = useState<readonly number[]>([])
  // As a transition: an urgent change up here would make React throw away a page that is still
  // streaming in and draw it anew, and with it what someone has begun to type.
  const measured = useCallback(
    (offsetMs: number) =>
      startTransition(() => setMeasurements((known) => withMeasured(known, offsetMs))),
    [],
  )
  useEffect(() => measured(serverNowMs - Date.now()), [serverNowMs, measured])
  const offsetMs = offsetOf(measurements)
  const clock = useMemo(
    () => ({ drawnMs: serverNowMs, offsetMs, measured }),
    [serverNowMs, offsetMs, measured],
  )
  return <ServerClockContext value={clock}>{children}</ServerClockContext>
}

function useServerClock(): ServerClock {
  const clock = useContext(ServerClockContext)
  if (!clock) throw new Error('useServerNow needs a ServerNow above it')
  return clock
}

/** When the server drew this page, and where a better measurement of its clock goes. */
export function useClockMeasure(): Pick<ServerClock, 'drawnMs' | 'measured'> {
  return useServerClock()
}

/** The server's time, redrawn each minute, and each second in the last minute before `untilMs`. */
export function useServerNow(untilMs?: number): number {
  const { drawnMs, offsetMs } = useServerClock()
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
