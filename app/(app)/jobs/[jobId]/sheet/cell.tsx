'use client'

import { useTranslations } from 'next-intl'
import { memo } from 'react'
import type { SheetColumn } from '@/lib/schemas/sheet-columns'
import { isMeasureColumn } from '@/lib/schemas/sheet-measure'
import { choicesOf, isChosen } from '@/lib/schemas/sheet-words'

type CellProps = Readonly<{
  index: number
  column: SheetColumn
  text: string
  /** Of the row: which list of sections its names are in. */
  shape: string
  isWrong: boolean
  /** This shape has no use for it. */
  isIdle?: boolean
  label: string
  describedBy?: string | undefined
  onEdit: (index: number, column: SheetColumn, text: string) => void
}>

const COUNTS: ReadonlySet<SheetColumn> = new Set(['count', 'stack', 'restarts'])
const isNumber = (column: SheetColumn) =>
  isMeasureColumn(column) || COUNTS.has(column) || column === 'bevel' || column === 'miter'

/** One cell: a box to type in, or a list to choose from that keeps a word it does not know. */
export const Cell = memo(function Cell({
  index,
  column,
  text,
  shape,
  isWrong,
  isIdle = false,
  label,
  describedBy,
  onEdit,
}: CellProps) {
  const shared = {
    'aria-label': label,
    'aria-invalid': isWrong || undefined,
    'aria-describedby': describedBy,
    'data-row': index,
    'data-column': column,
    value: text,
  }
  if (isChosen(column))
    return (
      <select {...shared} onChange={(event) => onEdit(index, column, event.target.value)}>
        <Choices column={column} text={text} isIdle={isIdle} />
      </select>
    )
  return (
    <input
      {...shared}
      type="text"
      autoComplete="off"
      className={isNumber(column) ? 'is-number' : undefined}
      inputMode={COUNTS.has(column) ? 'numeric' : 'text'}
      {...(column === 'section' ? { list: sectionListId(shape) } : {})}
      onChange={(event) => onEdit(index, column, event.target.value)}
    />
  )
})

/** The list of names that a section of this shape is in. */
export const sectionListId = (shape: string) => `sheet-sections-${shape}`

function Choices({
  column,
  text,
  isIdle,
}: Readonly<{ column: SheetColumn; text: string; isIdle: boolean }>) {
  const t = useTranslations('sheet')
  const choices = choicesOf(column)
  return (
    <>
      <option value="">{isIdle ? '–' : t(`empty.${column}` as 'empty.shape')}</option>
      {text !== '' && !choices.includes(text) ? <option value={text}>{text}</option> : null}
      {choices.map((code) => (
        <option key={code} value={code}>
          {t(`choice.${column}.${code}` as 'choice.shape.plate')}
        </option>
      ))}
    </>
  )
}
