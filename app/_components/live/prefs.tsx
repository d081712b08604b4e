'use client'

import type { ReactNode } from 'react'
import { createContext, useContext } from 'react'
import type { FormatPrefs } from '@/lib/format/prefs'

const PrefsContext = createContext<FormatPrefs | null>(null)

/** The person's units and clock with one place's zone; a screen of another site nests its own. */
export function PrefsProvider({
  prefs,
  children,
}: Readonly<{ prefs: FormatPrefs; children: ReactNode }>) {
  return <PrefsContext value={prefs}>{children}</PrefsContext>
}

/** Outside a signed-in screen there is nobody's choice to follow: the device's own zone, a 24-hour clock. */
export function usePrefsOrDevice(): FormatPrefs {
  return (
    useContext(PrefsContext) ?? {
      units: 'us',
      clock: '24',
      timeZone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    }
  )
}

export function usePrefs(): FormatPrefs {
  const prefs = useContext(PrefsContext)
  if (!prefs) throw new Error('usePrefs needs a PrefsProvider above it')
  return prefs
}
