import type { useTranslations } from 'next-intl'
import { type CatalogueSize, supplySizeOf } from '@/lib/calc/catalogue-size'
import { contentsFromReading } from '@/lib/calc/contents'
import type { CylinderReading } from '@/lib/calc/contents-types'
import {
  convert,
  gaugeKpaFromPsig,
  kelvinFromCelsius,
  kelvinFromFahrenheit,
} from '@/lib/calc/units'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatGasInterval } from '@/lib/format/quantity'
import { parseTyped } from './form/typed-number'

type Asked = Readonly<{
  typed: FormData
  size: CatalogueSize
  tareKg: number | null
  prefs: FormatPrefs
  t: ReturnType<typeof useTranslations<'cylinders'>>
}>

const boxOf = (typed: FormData, name: string) => {
  const value = parseTyped(String(typed.get(name) ?? ''))
  return value === null ? null : { value, unit: String(typed.get(`${name}Unit`) ?? '') }
}

function readingOf({ typed, tareKg }: Asked): CylinderReading | 'temperature' | 'tare' | null {
  const weight = boxOf(typed, 'weight')
  if (weight) {
    if (tareKg === null) return 'tare'
    return {
      kind: 'weight',
      grossKg:
        weight.unit === 'lb'
          ? convert({ value: weight.value, from: 'lb', to: 'kg' })
          : weight.value,
      tareKg,
    }
  }
  const gauge = boxOf(typed, 'gauge')
  if (!gauge) return null
  const temperature = boxOf(typed, 'temperature')
  if (!temperature) return 'temperature'
  return {
    kind: 'gauge',
    gaugePressureKpa: gauge.unit === 'psi' ? gaugeKpaFromPsig(gauge.value) : gauge.value,
    temperatureK:
      temperature.unit === 'degF'
        ? kelvinFromFahrenheit(temperature.value)
        : kelvinFromCelsius(temperature.value),
  }
}

/** "= 86 ft³ (80–92)", or what is missing or can't be; null while nothing is typed. */
export function readingMeaning(asked: Asked): string | null {
  const { size, prefs, t } = asked
  const reading = readingOf(asked)
  const supplySize = supplySizeOf(size)
  if (reading === null || !supplySize) return null
  if (reading === 'temperature' || reading === 'tare') return t(`missing.${reading}`)
  const outcome = contentsFromReading(reading, supplySize)
  if (!outcome.ok) return t('meansNothing')
  const { gas, gasKg: kg, low90Kg: lowKg, high90Kg: highKg } = outcome
  const { value, unit, interval } = formatGasInterval({ gas, kg, lowKg, highKg }, prefs)
  return t('means', { amount: `${value}\u00a0${unit}`, interval })
}
