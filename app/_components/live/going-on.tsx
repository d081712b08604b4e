'use client'

import { usePathname, useSearchParams } from 'next/navigation'
import { useEffect, useState } from 'react'
import { LoadingLines } from '../states/loading-lines'
import { leadsElsewhere } from './leads-elsewhere'

/** Nothing came in this time: the browser, or the page itself, says what is wrong. */
const AT_MOST_MS = 20_000

/**
 * A link was pressed and its page is not here yet. A page is sent whole, so that one that does not exist
 * answers 404 and not 200; this says meanwhile that the press was taken.
 */
export function GoingOn() {
  const address = `${usePathname()}?${useSearchParams()}`
  const [from, setFrom] = useState<string | null>(null)
  useEffect(() => {
    const press = (event: MouseEvent) => {
      const link = event.target instanceof Element ? event.target.closest('a') : null
      if (link && leadsElsewhere(event, link, window.location)) setFrom(address)
    }
    document.addEventListener('click', press, true)
    return () => document.removeEventListener('click', press, true)
  }, [address])
  useEffect(() => {
    if (from === null) return
    const timer = setTimeout(() => setFrom(null), AT_MOST_MS)
    return () => clearTimeout(timer)
  }, [from])
  return from === address ? (
    <div className="going-on">
      <LoadingLines rows={1} />
    </div>
  ) : null
}
