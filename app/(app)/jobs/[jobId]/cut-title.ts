import type { useTranslations } from 'next-intl'
import type { CutRow } from '@/lib/data/cut-rows'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity } from '@/lib/format/quantity'
import { withUnit } from '../figures'

type Translate = ReturnType<typeof useTranslations<'jobs'>>

/** "1 in", not "1.000 in": a plate is named by as many figures as it has. */
export const thicknessWords = (metres: number, prefs: FormatPrefs) => {
  const { value, unit } = formatQuantity('thickness', metres, prefs)
  return withUnit({ value: value.includes('.') ? value.replace(/\.?0+$/, '') : value, unit })
}
const length = (metres: number, prefs: FormatPrefs) => {
  const { value, unit } = formatQuantity('length', metres, prefs)
  return withUnit({ value: value.includes('.') ? value.replace(/\.?0+$/, '') : value, unit })
}

/** What is cut, in measures: "Plate 1 in, 18 ft". */
export function sectionWords({ shape }: CutRow['dims'], t: Translate, prefs: FormatPrefs): string {
  switch (shape.kind) {
    case 'plate':
      return t('section.plate', {
        thickness: thicknessWords(shape.thicknessM, prefs),
        length: length(shape.lengthM, prefs),
      })
    case 'flatBar':
      return t('section.flat_bar', {
        thickness: thicknessWords(shape.thicknessM, prefs),
        width: thicknessWords(shape.widthM, prefs),
      })
    case 'squareBar':
      return t('section.square_bar', { side: thicknessWords(shape.sideM, prefs) })
    case 'roundBar':
      return t('section.round_bar', { diameter: thicknessWords(shape.diameterM, prefs) })
    case 'pipe':
      return t('section.pipe', {
        outside: thicknessWords(shape.outsideDiameterM, prefs),
        wall: thicknessWords(shape.wallM, prefs),
      })
    case 'wShape':
      return t('section.w_shape', { designation: shape.designation.replace('x', '×') })
  }
}

/** "Plate 1 in, 18 ft, 3 of 6", or the person's own name for it and how many. */
export function cutTitle(cut: CutRow, t: Translate, prefs: FormatPrefs): string {
  const left = cut.count - cut.doneCount
  const count =
    cut.doneCount > 0 && left > 0
      ? t('leftOf', { left, count: cut.count })
      : t('cuts', { count: cut.count })
  return `${cut.title || sectionWords(cut.dims, t, prefs)}, ${count}`
}
