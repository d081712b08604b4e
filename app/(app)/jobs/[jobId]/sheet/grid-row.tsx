'use client'

import { useTranslations } from 'next-intl'
import { memo, type ReactNode } from 'react'
import { usePrefs } from '@/app/_components/live/prefs'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import type { ListSettings } from '@/lib/calc/opened-cut'
import { columnsOfShape } from '@/lib/schemas/sheet-boxes'
import type { SheetColumn } from '@/lib/schemas/sheet-columns'
import { gasAmount, withUnit } from '../../figures'
import { useRefusalWords } from '../refusal-words'
import { Cell } from './cell'
import { columnName, problemWords } from './column-words'
import type { SheetRow } from './sheet-state'
import { rowNumbers } from './sheet-totals'

type GridRowProps = Readonly<{
  row: SheetRow
  index: number
  list: ListSettings
  columns: readonly SheetColumn[]
  onEdit: (index: number, column: SheetColumn, text: string) => void
  onRemove: (index: number) => void
  /** Whether its number is open under the grid. */
  isOpen: boolean
  onToggle: (key: string) => void
}>

/** Of the panel under the grid that a row's number opens. */
export const TERMS_ID = 'sheet-row-terms'

/** One row of the grid; only the row that changed is drawn anew. */
export const GridRow = memo(function GridRow({
  row,
  index,
  list,
  columns,
  onEdit,
  onRemove,
  isOpen,
  onToggle,
}: GridRowProps) {
  const [t, opening] = [useTranslations('sheet'), useTranslations('kit.opening')]
  const problems = row.read.ok || row.isEmpty ? [] : row.read.problems
  const asked = columnsOfShape(row.cells.shape ?? '', row.cells.task ?? '')
  const problemsId = `sheet-${row.key}-problems`
  return (
    <tr aria-rowindex={index + 2} className={problems.length > 0 ? 'is-wrong' : undefined}>
      <th scope="row" className="sheet-col-number">
        {index + 1}
        {problems.length > 0 ? (
          <span id={problemsId} className="sr-only">
            {problems.map((problem) => problemWords(problem, row.cells, t)).join(' ')}
          </span>
        ) : null}
      </th>
      {columns.map((column) => {
        const wrong = problems.find((problem) => problem.column === column)
        const isIdle = !asked.has(column) && !row.cells[column]
        return (
          <td
            key={column}
            className={wrong ? 'is-wrong' : isIdle ? 'is-idle' : undefined}
            title={wrong ? problemWords(wrong, row.cells, t) : undefined}
          >
            <Cell
              index={index}
              column={column}
              text={row.cells[column] ?? ''}
              shape={row.cells.shape ?? ''}
              isWrong={wrong !== undefined}
              isIdle={isIdle}
              label={t('cellOfRow', { column: columnName(column, row.cells, t), row: index + 1 })}
              describedBy={wrong ? problemsId : undefined}
              onEdit={onEdit}
            />
          </td>
        )
      })}
      <td className="is-figure">
        <RowFigure row={row} list={list}>
          {(figure) => (
            <button
              type="button"
              className="opening-number"
              aria-expanded={isOpen}
              aria-controls={TERMS_ID}
              aria-label={opening(isOpen ? 'hide' : 'show', { spoken: figure })}
              onClick={() => onToggle(row.key)}
            >
              <span>{figure}</span>
            </button>
          )}
        </RowFigure>
      </td>
      <td className="sheet-col-remove">
        {row.doneCount === 0 ? (
          <button
            type="button"
            className="sheet-remove"
            aria-label={t('takeOffRow', { row: index + 1 })}
            onClick={() => onRemove(index)}
          >
            ×
          </button>
        ) : null}
      </td>
    </tr>
  )
})

/** What the row takes of oxygen, about; or that it is not by this table. */
export function RowFigure({
  row,
  list,
  children,
}: Readonly<{
  row: SheetRow
  list: ListSettings
  /** How the number stands, where it is more than words. */
  children?: (figure: string) => ReactNode
}>) {
  const t = useTranslations('sheet')
  const prefs = usePrefs()
  const say = useRefusalWords(prefs)
  if (!row.input) return <span className="sr-only">{t('noNumber')}</span>
  const numbers = rowNumbers(row.input, list)
  if (numbers.ok) {
    const figure = withUnit(gasAmount('oxygen', numbers.oxygenKg, prefs))
    return children ? children(figure) : <span>{figure}</span>
  }
  return (
    <span className="trouble" title={numbers.refusals.map(say).join(' ')}>
      <AnswerMark name="refused" />
      <span className="sr-only">
        {t('notByThis')} {numbers.refusals.map(say).join(' ')}
      </span>
    </span>
  )
}
