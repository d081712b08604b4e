import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity } from '@/lib/format/quantity'
import { withUnit } from '../figures'

/** "1 in", not "1.000 in": a plate is named by as many figures as it has. */
export const thicknessWords = (metres: number, prefs: Pick<FormatPrefs, 'units'>) => {
  const { value, unit } = formatQuantity('thickness', metres, prefs)
  return withUnit({ value: value.includes('.') ? value.replace(/\.?0+$/, '') : value, unit })
}
