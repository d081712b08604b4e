'use client'

import { useEffect, useState } from 'react'

/** When signal was lost, by the device's own clock; null while there is signal. */
export function useOfflineSince(): number | null {
  const [since, setSince] = useState<number | null>(null)
  useEffect(() => {
    const lost = () => setSince((was) => was ?? Date.now())
    const back = () => setSince(null)
    if (!navigator.onLine) lost()
    window.addEventListener('offline', lost)
    window.addEventListener('online', back)
    return () => {
      window.removeEventListener('offline', lost)
      window.removeEventListener('online', back)
    }
  }, [])
  return since
}
