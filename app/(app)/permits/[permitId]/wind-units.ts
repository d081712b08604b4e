import type { FieldUnit } from '@/app/_components/form/typed-number'
import { convert } from '@/lib/calc/units'
import type { FormatPrefs } from '@/lib/format/prefs'

const MPH = { unit: 'mph', label: 'mph' } as const
const KMH = { unit: 'km/h', label: 'km/h' } as const
const MS = { unit: 'm/s', label: 'm/s' } as const

/** What a wind is typed in, first what this person reads. */
export function windUnits(units: FormatPrefs['units']): readonly [FieldUnit, FieldUnit, FieldUnit] {
  return units === 'si' ? [MS, KMH, MPH] : [MPH, KMH, MS]
}

/** A wind that was kept, as a box of `windUnits` holds it. */
export function shownWind(mph: number | null, units: FormatPrefs['units']): string {
  if (mph === null) return ''
  const to = units === 'si' ? 'm/s' : 'mph'
  return String(Math.round(convert({ value: mph, from: 'mph', to }) * 10) / 10)
}

export function windWords(mph: number, units: FormatPrefs['units']): string {
  return `${shownWind(mph, units)} ${windUnits(units)[0].label}`
}
