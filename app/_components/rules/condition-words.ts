import { convert } from '@/lib/calc/units'
import { formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity, joinQuantity } from '@/lib/format/quantity'
import type { ConditionField } from '@/lib/rules/conditions'
import type { Say } from '../form/reason-words'

type Shown = Readonly<{ field: ConditionField; value: string | number | boolean | null }>

function numberWords(field: ConditionField, value: number, prefs: FormatPrefs): string {
  if (field.endsWith('Ft'))
    return joinQuantity(formatQuantity('length', convert({ value, from: 'ft', to: 'm' }), prefs))
  return `${formatNumber(value, Number.isInteger(value) ? 0 : 1)} %`
}

/** "Nearest thing that burns: 22 ft". Lists and people are named without a value. */
export function conditionWords(t: Say, { field, value }: Shown, prefs: FormatPrefs): string {
  const name = t(`rules.conditions.${field}` as never)
  if (value === null) return name
  const words =
    typeof value === 'number'
      ? numberWords(field, value, prefs)
      : t((field === 'process' ? `rules.processes.${value}` : `rules.values.${value}`) as never)
  return t('rules.condition' as never, { name, value: words } as never)
}
