import type { useTranslations } from 'next-intl'
import type { CutRow } from '@/lib/data/cut-rows'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity } from '@/lib/format/quantity'
import { codeOfKind } from '@/lib/schemas/cut-shapes'
import { withUnit } from '../figures'
import { shownSection } from './shown-section'
import { thicknessWords } from './thickness-words'

type Translate = ReturnType<typeof useTranslations<'jobs'>>

const length = (metres: number, prefs: FormatPrefs) => {
  const { value, unit } = formatQuantity('length', metres, prefs)
  return withUnit({ value: value.includes('.') ? value.replace(/\.?0+$/, '') : value, unit })
}

function shapeWords({ shape }: CutRow['dims'], t: Translate, prefs: FormatPrefs): string {
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
    case 'rivetHead':
    case 'boltHead':
      return t(`section.${shape.kind}`, { shank: thicknessWords(shape.shankDiameterM, prefs) })
    case 'gouge':
    case 'washOff':
      return t(`section.${shape.kind}`, {
        area: withUnit(formatQuantity('area', shape.areaM2, prefs)),
        depth: thicknessWords(shape.depthM, prefs),
      })
    default:
      return t('section.named', {
        shape: codeOfKind(shape.kind),
        name: shownSection(shape.designation),
      })
  }
}

/** "cope 6 in × 3 in"; null for what is cut through. */
function taskWords({ task }: CutRow['dims'], t: Translate, prefs: FormatPrefs): string | null {
  switch (task?.kind) {
    case undefined:
      return null
    case 'hole':
      return t('taskDone.hole', { diameter: thicknessWords(task.diameterM, prefs) })
    case 'notch':
    case 'cope':
      return t(`taskDone.${task.kind}`, {
        along: thicknessWords(task.lengthM, prefs),
        into: thicknessWords(task.depthM, prefs),
      })
    case 'bevel':
      return task.landM
        ? t('taskDone.bevelWithLand', {
            degrees: task.angleDeg,
            land: thicknessWords(task.landM, prefs),
          })
        : t('taskDone.bevel', { degrees: task.angleDeg })
  }
}

/** What is cut, in measures, and what is done to it: "W12×50, cope 6 in × 3 in". */
export function sectionWords(dims: CutRow['dims'], t: Translate, prefs: FormatPrefs): string {
  return [shapeWords(dims, t, prefs), taskWords(dims, t, prefs)].filter(Boolean).join(', ')
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
