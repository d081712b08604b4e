'use client'

import { useSyncExternalStore } from 'react'

const DESK = '(min-width: 45rem)'

function listen(onChange: () => void) {
  const query = window.matchMedia(DESK)
  query.addEventListener('change', onChange)
  return () => query.removeEventListener('change', onChange)
}

/** Whether there is room for the sheet as a grid. Until the page runs, a phone is assumed. */
export function useIsDesk(): boolean {
  return useSyncExternalStore(
    listen,
    () => window.matchMedia(DESK).matches,
    () => false,
  )
}
