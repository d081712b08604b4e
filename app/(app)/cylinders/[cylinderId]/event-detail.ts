import type { useTranslations } from 'next-intl'
import type { CylinderEventRow } from '@/lib/data/cylinders-history'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity, formatTemperature } from '@/lib/format/quantity'
import { gasAmount, withUnit } from '../../jobs/figures'

type Translate = ReturnType<typeof useTranslations<'cylinders'>>

function observed(event: CylinderEventRow, prefs: FormatPrefs, t: Translate): string | null {
  if (event.gaugeKpa !== null) {
    const pressure = withUnit(formatQuantity('gaugePressure', event.gaugeKpa, prefs))
    return event.temperatureK === null
      ? pressure
      : t('gaugeAt', {
          pressure,
          temperature: withUnit(formatTemperature(event.temperatureK, prefs)),
        })
  }
  return event.weightKg === null
    ? null
    : withUnit(formatQuantity('smallMass', event.weightKg, prefs))
}

/** Where, with what reading, what that meant and why: one line an event. */
export function eventDetail(
  event: CylinderEventRow,
  gasId: string,
  prefs: FormatPrefs,
  t: Translate,
): string {
  const seen = observed(event, prefs, t)
  const meant =
    event.contentsKg === null
      ? null
      : t('meant', { amount: withUnit(gasAmount(gasId, event.contentsKg, prefs)) })
  const parts = [
    event.outfitNumber && event.side
      ? t(`onOutfit.${event.side}`, { number: event.outfitNumber })
      : null,
    event.toSiteName && event.toSiteName !== event.siteName
      ? t('fromTo', { from: event.siteName, to: event.toSiteName })
      : event.siteName,
    seen && meant ? `${seen} ${meant}` : (seen ?? meant),
    event.markedEmpty ? t('markedEmpty') : null,
    event.correctsSeq === null ? null : t('corrects', { seq: event.correctsSeq }),
    event.reason,
  ]
  return parts.filter(Boolean).join('. ')
}
