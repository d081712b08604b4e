import type { useTranslations } from 'next-intl'
import type { GasCode } from '@/lib/calc/gas-data'
import type { AuditEntry } from '@/lib/data/gas-audit-entries'
import type { AuditedReading } from '@/lib/data/gas-audit-rows'
import { formatClock, formatDay } from '@/lib/format/clock'
import { formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity, formatTemperature, joinQuantity } from '@/lib/format/quantity'
import { volumeOf, volumeUnit } from '../audit-view'

/** What the person saw: a gauge at a temperature, or a weight. */
export function observed(reading: AuditedReading, prefs: FormatPrefs): string {
  if (reading.weightKg !== null)
    return joinQuantity(formatQuantity('smallMass', reading.weightKg, prefs))
  if (reading.gaugeKpa === null) return ''
  const pressure = joinQuantity(formatQuantity('gaugePressure', reading.gaugeKpa, prefs))
  return reading.temperatureK === null
    ? pressure
    : `${pressure}, ${joinQuantity(formatTemperature(reading.temperatureK, prefs))}`
}

/** A remark on an entry; one that somebody accepted leads to its finding. */
export type Remark = Readonly<{ text: string; href: string | null }>

/** Whose else the gas was, what it was swapped with, and what was put right, in the order it happened. */
export function remarksOf(
  t: ReturnType<typeof useTranslations<'audit.entries'>>,
  { entry, gas, prefs }: Readonly<{ entry: AuditEntry; gas: GasCode; prefs: FormatPrefs }>,
): Remark[] {
  const amount = (kg: number) =>
    `${formatNumber(volumeOf(gas, kg, prefs.units))} ${volumeUnit(prefs.units)}`
  const when = (at: Date) => `${formatDay(at, prefs)} ${formatClock(at, prefs)}`
  const { reading, swappedWith, shared, sharedWith, accepted } = entry
  const plain = [
    swappedWith ? t('swapped', { kind: reading.kind, serial: swappedWith }) : null,
    shared
      ? t('shared', { value: amount(shared.usageKg), jobs: sharedWith.join(', ') || 'none' })
      : null,
    reading.putRight
      ? t('putRight', {
          who: reading.putRight.personName,
          when: when(reading.putRight.at),
          value:
            reading.putRight.contentsKg === null ? 'none' : amount(reading.putRight.contentsKg),
        })
      : null,
  ].flatMap((text) => (text ? [{ text, href: null }] : []))
  return [
    ...plain,
    ...accepted.map((mark) => ({
      text: t(mark.kind, {
        who: mark.personName,
        when: when(mark.at),
        value: amount(mark.kg),
        written: amount(reading.recordedKg),
      }),
      href: `/audit/findings/${mark.findingId}`,
    })),
  ]
}
