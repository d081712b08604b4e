import { useTranslations } from 'next-intl'
import type { Refusal } from '@/lib/calc/refusal'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity, type QuantityKind } from '@/lib/format/quantity'
import { codeOfKind } from '@/lib/schemas/cut-shapes'
import { withUnit } from '../figures'
import { thicknessWords } from './thickness-words'

type Say = ReturnType<typeof useTranslations<'jobs'>>
type SayAny = ReturnType<typeof useTranslations<'calcWords'>>

const KIND_OF_UNIT: Readonly<Record<string, QuantityKind>> = {
  'm3/s': 'gasFlow',
  'm/s': 'speed',
  m2: 'area',
  'm2/s': 'areaRate',
  kg: 'mass',
}

/** A bound or a value as this person reads it. */
function amountWords(value: number, unit: string | undefined, prefs: FormatPrefs): string {
  if (unit === 'm') return thicknessWords(value, prefs)
  const kind = unit === undefined ? undefined : KIND_OF_UNIT[unit]
  if (kind) return withUnit(formatQuantity(kind, value, prefs))
  return unit === 'deg' ? `${value}°` : String(Number(value.toPrecision(5)))
}

function rangeWords({ limit }: Refusal, t: Say, prefs: FormatPrefs): string {
  const { min, max, above, unit } = limit ?? {}
  const words = (value: number | undefined) =>
    value === undefined ? '' : amountWords(value, unit, prefs)
  const [low, high] = [words(above ?? min), words(max)]
  if (above !== undefined) return t(`refusedRange.${high ? 'above' : 'aboveOnly'}`, { low, high })
  if (min !== undefined && max !== undefined) return t('refusedRange.between', { low, high })
  if (min !== undefined) return t('refusedRange.atLeast', { low })
  return max === undefined ? t('refusedRange.any') : t('refusedRange.atMost', { high })
}

/** `cuts.3.task.depthM` is what the form calls "Into". */
function fieldWords(field: string, t: Say): string {
  const [group = '', name = ''] = field.replace(/^cuts\.\d+\./, '').split('.')
  const codes = [`${group}_${name}`, group]
  const code = codes.find((one) => t.has(`refusedField.${one}` as 'refusedField.other'))
  return t(`refusedField.${code ?? 'other'}` as 'refusedField.other')
}

function metalWords(refusal: Refusal, t: Say): string {
  const { because, instead = [] } = refusal
  const why = `because.${because}` as 'because.heatRunsAway'
  const list = instead
    .map((code) => `instead.${code}` as 'instead.saw')
    .filter((key) => t.has(key))
    .map((key) => t(key))
  return [
    because && t.has(why) ? t(why) : '',
    list.length > 0 ? t('refused.instead', { list: list.join(', ') }) : '',
  ]
    .filter(Boolean)
    .join(' ')
}

function shapeWords(refusal: Refusal, t: Say): string {
  const what = fieldWords(refusal.field, t)
  const shapes = (refusal.limit?.allowed ?? []).map((kind) =>
    t(`shapes.${codeOfKind(kind as Parameters<typeof codeOfKind>[0])}`),
  )
  return shapes.length > 0
    ? t('refused.NOT_FOR_SHAPE_LIST', { what, list: shapes.join(', ') })
    : t('refused.NOT_FOR_SHAPE', { what })
}

/** Why a cut or a list gives no number, in a sentence for every code of the library. */
export function refusalWords(
  refusal: Refusal,
  { t, words, prefs }: Readonly<{ t: Say; words: SayAny; prefs: FormatPrefs }>,
): string {
  const { code, value, limit } = refusal
  const range = rangeWords(refusal, t, prefs)
  const gas = (fuel: string) => t(`gasMid.${fuel}` as 'gasMid.propane')
  switch (code) {
    case 'OUTSIDE_TABLE':
      if (typeof value !== 'number' || limit?.unit !== 'm') return words(`refusal.${code}`)
      return t('refused.OUTSIDE_TABLE', {
        value: thicknessWords(value, prefs),
        min: thicknessWords(limit.min ?? 0, prefs),
        max: thicknessWords(limit.max ?? 0, prefs),
      })
    case 'OUT_OF_RANGE': {
      const what = fieldWords(refusal.field, t)
      return typeof value === 'number'
        ? t('refused.OUT_OF_RANGE', { what, value: amountWords(value, limit?.unit, prefs), range })
        : t('refused.OUT_OF_RANGE_NO_VALUE', { what, range })
    }
    case 'MATERIAL_NOT_FLAME_CUT':
      return metalWords(refusal, t)
    case 'NOT_FOR_SHAPE':
      return shapeWords(refusal, t)
    case 'FUEL_NOT_IN_TABLE':
      return t('fuelNotInTable', {
        gas: gas(String(value)),
        list: (limit?.allowed ?? []).map(gas).join(', '),
      })
    case 'PURITY_TOO_LOW':
      return t('refused.PURITY_TOO_LOW', { value: String(value), range })
    case 'UNKNOWN_SECTION':
    case 'UNKNOWN_MATERIAL':
    case 'UNKNOWN_COATING':
      return t(`refused.${code}`, { value: String(value) })
    case 'OWN_SETTINGS_NEEDED':
      return t('refused.OWN_SETTINGS_NEEDED')
    default:
      return words(`refusal.${code}`)
  }
}

/** The same, with the words at hand. */
export function useRefusalWords(prefs: FormatPrefs): (refusal: Refusal) => string {
  const [t, words] = [useTranslations('jobs'), useTranslations('calcWords')]
  return (refusal) => refusalWords(refusal, { t, words, prefs })
}
