import { formatClock, formatDay } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'

/** The moment that a screen was drawn for: the day, and the time in ink. */
export function DayClock({ now, prefs }: Readonly<{ now: Date; prefs: FormatPrefs }>) {
  return (
    <span className="type-note text-ink-2">
      {formatDay(now, prefs)} <b className="font-[650] text-ink">{formatClock(now, prefs)}</b>
    </span>
  )
}
