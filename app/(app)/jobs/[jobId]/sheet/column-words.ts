import type { useTranslations } from 'next-intl'
import type { SheetCells, SheetColumn } from '@/lib/schemas/sheet-columns'
import { bareUnit, kindOf, type SheetUnits } from '@/lib/schemas/sheet-measure'
import type { CellProblem } from '@/lib/schemas/sheet-row'

type Translate = ReturnType<typeof useTranslations<'sheet'>>

const UNIT_WORDS: Readonly<Record<string, string>> = { ft2: 'ft²', m2: 'm²' }
const unitWord = (unit: string) => UNIT_WORDS[unit] ?? unit

/** The unit of a bare number in a column, as its head says it; a piece is a length or an area by its shape. */
export function columnUnit(column: SheetColumn, units: SheetUnits, shape?: string): string | null {
  if (column === 'bevel') return '°'
  if (column === 'piece' && shape === undefined)
    return `${bareUnit('long', units)}, ${unitWord(bareUnit('area', units))}`
  return column === 'thickness' ||
    column === 'width' ||
    column === 'length' ||
    column === 'piece' ||
    column === 'weight'
    ? unitWord(bareUnit(kindOf(column, shape ?? ''), units))
    : null
}

/** What a thickness or width is called for this shape. */
export function columnName(column: SheetColumn, cells: SheetCells | null, t: Translate): string {
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
