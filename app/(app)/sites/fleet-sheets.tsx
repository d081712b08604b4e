'use client'

import type { FleetSite } from '@/lib/data/fleet'
import type { FormatPrefs } from '@/lib/format/prefs'
import { GasSheet } from './gas-sheet'
import { PermitSheet } from './permit-sheet'
import { PhoneSites } from './phone-sites'

type SheetsProps = Readonly<{ sites: readonly FleetSite[]; now: Date; prefs: FormatPrefs }>

/**
 * All sites, for a phone and for a desk. Drawn from the rows alone, here and in the browser, so that
 * the page carries the rows once and not each line of both drawings beside its own description.
 */
export function FleetSheets({ sites, now, prefs }: SheetsProps) {
  return (
    <>
      <div className="desk:hidden">
        <PhoneSites sites={sites} now={now} prefs={prefs} />
      </div>
      <div className="desk-body hidden gap-8 desk:grid wide:grid-cols-[minmax(0,13fr)_minmax(0,8fr)]">
        <PermitSheet sites={sites} now={now} prefs={prefs} />
        <GasSheet sites={sites} now={now} prefs={prefs} />
      </div>
    </>
  )
}
