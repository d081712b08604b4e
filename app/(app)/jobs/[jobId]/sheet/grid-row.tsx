'use client'

import { useTranslations } from 'next-intl'
import { memo } from 'react'
import { usePrefs } from '@/app/_components/live/prefs'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { columnsOfShape } from '@/lib/schemas/sheet-boxes'
import type { SheetColumn } from '@/lib/schemas/sheet-columns'
import { gasAmount, withUnit } from '../../figures'
import { useRefusalWords } from '../refusal-words'
import { Cell } from './cell'
import { columnName, problemWords } from './column-words'
import type { SheetRow } from './sheet-state'
import { type ListInput, rowNumbers } from './sheet-totals'

type GridRowProps = Readonly<{
  row: SheetRow
  index: number
  list: ListInput
  columns: readonly SheetColumn[]
  onEdit: (index: number, column: SheetColumn, text: string) => void
  onRemove: (index: number) => void
}>

/** One row of the grid; only the row that changed is drawn anew. */
export const GridRow = memo(function GridRow({
  row,
  index,
  list,
  columns,
  onEdit,
  onRemove,
}: GridRowProps) {
  const t = useTranslations('sheet')
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
        <RowFigure row={row} list={list} />
      </td>
      <td>
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
export function RowFigure({ row, list }: Readonly<{ row: SheetRow; list: ListInput }>) {
  const t = useTranslations('sheet')
  const prefs = usePrefs()
  const say = useRefusalWords(prefs)
  if (!row.input) return <span className="sr-only">{t('noNumber')}</span>
  const numbers = rowNumbers(row.input, list)
  return numbers.ok ? (
    <span>{withUnit(gasAmount('oxygen', numbers.oxygenKg, prefs))}</span>
  ) : (
    <span className="trouble" title={numbers.refusals.map(say).join(' ')}>
      <AnswerMark name="refused" />
      <span className="sr-only">
        {t('notByThis')} {numbers.refusals.map(say).join(' ')}
      </span>
    </span>
  )
}
