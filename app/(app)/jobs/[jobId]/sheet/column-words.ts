import type { useTranslations } from 'next-intl'
import { isShape } from '@/lib/schemas/sheet-boxes'
import type { SheetCells, SheetColumn } from '@/lib/schemas/sheet-columns'
import { bareUnit, isMeasureColumn, kindOf, type SheetUnits } from '@/lib/schemas/sheet-measure'
import type { CellProblem } from '@/lib/schemas/sheet-row'

type Translate = ReturnType<typeof useTranslations<'sheet'>>

const unitWord = (unit: string) =>
  unit.replace(
    /^(ft|m)([23])/,
    (_, base: string, power: string) => base + (power === '2' ? '²' : '³'),
  )

/** The unit of a bare number in a column, as its head says it; a piece is a length or an area by its shape. */
export function columnUnit(column: SheetColumn, units: SheetUnits, shape?: string): string | null {
  if (column === 'bevel' || column === 'miter') return '°'
  if (column === 'piece' && shape === undefined)
    return `${bareUnit('long', units)}, ${unitWord(bareUnit('area', units))}`
  if (!isMeasureColumn(column)) return null
  return unitWord(bareUnit(kindOf(column, shape && isShape(shape) ? shape : ''), units))
}

/** What a thickness or width is called for this shape. */
export function columnName(column: SheetColumn, cells: SheetCells | null, t: Translate): string {
  const ofTask = `ofTask.${cells?.task ?? ''}.${column}` as 'ofTask.hole.along'
  if (cells?.task && t.has(ofTask)) return t(ofTask)
  const own = `own.${cells?.shape ?? ''}.${column}` as 'own.pipe.thickness'
  return cells?.shape && t.has(own) ? t(own) : t(`column.${column}`)
}

/** "Thickness: “thick” is no number." */
export function problemWords(
  { column, code, value }: CellProblem,
  cells: SheetCells,
  t: Translate,
): string {
  const words = `problem.${code}` as 'problem.REQUIRED'
  return t('cellProblem', {
    column: columnName(column, cells, t),
    problem: t.has(words) ? t(words, { value }) : t('problem.NOT_UNDERSTOOD', { value }),
  })
}
