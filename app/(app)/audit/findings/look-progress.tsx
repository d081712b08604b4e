'use client'

import { useRouter } from 'next/navigation'
import type { ReactNode } from 'react'
import { useEffect } from 'react'

const ASK_EVERY_MS = 2_000

/** How far the look is; the page is drawn again until it is done. */
export function LookProgress({ children }: Readonly<{ children: ReactNode }>) {
  const router = useRouter()
  useEffect(() => {
    const asking = setInterval(() => {
      if (!document.hidden) router.refresh()
    }, ASK_EVERY_MS)
    return () => clearInterval(asking)
  }, [router])
  return (
    <p role="status" className="px-4 pb-2 desk:px-8">
      {children}
    </p>
  )
}
