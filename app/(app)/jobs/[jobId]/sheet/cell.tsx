'use client'

import { useTranslations } from 'next-intl'
import { memo } from 'react'
import type { SheetColumn } from '@/lib/schemas/sheet-columns'
import { choicesOf, isChosen } from '@/lib/schemas/sheet-words'

type CellProps = Readonly<{
  index: number
  column: SheetColumn
  text: string
  isWrong: boolean
  label: string
  describedBy?: string | undefined
  onEdit: (index: number, column: SheetColumn, text: string) => void
}>

const NUMBERS: ReadonlySet<SheetColumn> = new Set([
  'thickness',
  'width',
  'length',
  'count',
  'bevel',
  'piece',
  'weight',
])
const DECIMALS: ReadonlySet<SheetColumn> = new Set(['count'])

/** One cell: a box to type in, or a list to choose from that keeps a word it does not know. */
export const Cell = memo(function Cell({
  index,
  column,
  text,
  isWrong,
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
        <Choices column={column} text={text} />
      </select>
    )
  return (
    <input
      {...shared}
      type="text"
      autoComplete="off"
      className={NUMBERS.has(column) ? 'is-number' : undefined}
      inputMode={DECIMALS.has(column) ? 'numeric' : 'text'}
      {...(column === 'section' ? { list: 'sheet-sections' } : {})}
      onChange={(event) => onEdit(index, column, event.target.value)}
    />
  )
})

function Choices({ column, text }: Readonly<{ column: SheetColumn; text: string }>) {
  const t = useTranslations('sheet')
  const choices = choicesOf(column)
  return (
    <>
      <option value="">{t(`empty.${column}` as 'empty.shape')}</option>
      {text !== '' && !choices.includes(text) ? <option value={text}>{text}</option> : null}
      {choices.map((code) => (
        <option key={code} value={code}>
          {t(`choice.${column}.${code}` as 'choice.shape.plate')}
        </option>
      ))}
    </>
  )
}
