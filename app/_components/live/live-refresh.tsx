'use client'

import { useRouter } from 'next/navigation'
import { useEffect } from 'react'
import { joinLiveStream } from './live-stream'

const SETTLE_MS = 300
const FALLBACK_MS = 30_000

/** Draws the page again when something changed; without a stream, every 30 s. */
export function LiveRefresh() {
  const router = useRouter()
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
      settle = setTimeout(() => router.refresh(), SETTLE_MS)
    }
    const stream = joinLiveStream(refresh)
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
  }, [router])
  return null
}
