'use client'

import { useRouter } from 'next/navigation'
import { useEffect, useRef } from 'react'
import { joinLiveStream } from './live-stream'
import { useClockMeasure } from './server-now'

const SETTLE_MS = 300
const FALLBACK_MS = 30_000

/** Draws the page again when something changed; without a stream, every 30 s. */
export function LiveRefresh() {
  const router = useRouter()
  const { drawnMs, measured } = useClockMeasure()
  const drawn = useRef(drawnMs) // of the first drawing: later ones need no other stream
  useEffect(() => {
    let settle: ReturnType<typeof setTimeout> | undefined
    let isStale = false
    const refresh = () => {
      if (document.hidden) {
        isStale = true // drawn when someone looks
        return
      }
      isStale = false
      clearTimeout(settle)
      // Without a network the router would leave the page, and with it what was typed.
      settle = setTimeout(() => navigator.onLine && router.refresh(), SETTLE_MS)
    }
    const stream = joinLiveStream({ changed: refresh, measured }, drawn.current)
    const fallback = setInterval(() => {
      if (!stream.isAlive() && navigator.onLine) refresh()
    }, FALLBACK_MS)
    const seen = () => {
      if (!document.hidden && isStale) refresh()
    }
    document.addEventListener('visibilitychange', seen)
    window.addEventListener('online', refresh)
    return () => {
      stream.leave()
      clearInterval(fallback)
      clearTimeout(settle)
      document.removeEventListener('visibilitychange', seen)
      window.removeEventListener('online', refresh)
    }
  }, [router, measured])
  return null
}
