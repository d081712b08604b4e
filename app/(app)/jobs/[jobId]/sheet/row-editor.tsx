'use client'

import { useTranslations } from 'next-intl'
import { useEffect, useRef, useState } from 'react'
import { Button } from '@/app/_components/controls/button'
import { usePrefs } from '@/app/_components/live/prefs'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { Opening, OpeningNumber, OpeningPanel } from '@/app/_components/opening'
import type { ListSettings } from '@/lib/calc/opened-cut'
import { isByArea } from '@/lib/schemas/cut-shapes'
import { columnsOfShape, isShape } from '@/lib/schemas/sheet-boxes'
import {
  SELDOM_COLUMNS,
  SHEET_COLUMNS,
  type SheetCells,
  type SheetColumn,
} from '@/lib/schemas/sheet-columns'
import { useRefusalWords } from '../refusal-words'
import { Cell } from './cell'
import { columnName, columnUnit, problemWords } from './column-words'
import type { RowsProps } from './desk-grid'
import { RowFigure } from './grid-row'
import { RowTerms } from './row-terms'
import { SectionLists } from './section-lists'
import type { SheetRow } from './sheet-state'
import { rowNumbers } from './sheet-totals'

type RowEditorProps = RowsProps &
  Readonly<{ index: number; onGo: (index: number) => void; onDone: () => void }>

/** One row's boxes, those that its shape asks for; what stands in others stays in sight too. */
export function RowEditor({ sheet, list, crew, index, onGo, onDone }: RowEditorProps) {
  const t = useTranslations('sheet')
  const { units } = usePrefs()
  const [isMore, setIsMore] = useState(false)
  const heading = useRef<HTMLHeadingElement>(null)
  // biome-ignore lint/correctness/useExhaustiveDependencies: another row is another page for the reader
  useEffect(() => heading.current?.focus(), [index])
  const row = sheet.rows[index]
  if (!row) return null
  const asked = columnsOfShape(row.cells.shape ?? '', row.cells.task ?? '')
  const problems = row.read.ok ? [] : row.read.problems
  const inSight = (column: SheetColumn) =>
    Boolean(row.cells[column]?.trim()) ||
    problems.some((problem) => problem.column === column) ||
    (asked.has(column) && (isMore || isUsual(column, row.cells)))
  const columns = SHEET_COLUMNS.filter(inSight)
  const unitOf = (column: SheetColumn) => columnUnit(column, units, row.cells.shape ?? '')
  return (
    <section className="px-4 py-2" aria-labelledby="sheet-row-heading">
      <h2 id="sheet-row-heading" ref={heading} tabIndex={-1} className="type-section py-2">
        {t('rowOf', { row: index + 1, rows: sheet.rows.length })}
      </h2>
      <SectionLists />
      <div className="flex flex-col gap-3">
        {columns.map((column) => {
          const wrong = problems.find((problem) => problem.column === column)
          const id = `sheet-${column}-said`
          const name = columnName(column, row.cells, t)
          return (
            <div
              key={column}
              className={`field ${wrong && row.cells[column] ? 'field-wrong' : ''}`}
            >
              <span className="field-label" aria-hidden="true">
                {name}
              </span>
              <div className="field-box">
                <Cell
                  index={index}
                  column={column}
                  text={row.cells[column] ?? ''}
                  shape={row.cells.shape ?? ''}
                  isWrong={wrong !== undefined}
                  label={t('cellOfRow', { column: name, row: index + 1 })}
                  describedBy={wrong ? id : undefined}
                  onEdit={sheet.edit}
                />
                {unitOf(column) ? <span className="field-unit">{unitOf(column)}</span> : null}
              </div>
              {wrong ? (
                <p id={id} className={row.cells[column] ? 'field-error' : 'field-note'}>
                  {problemWords(wrong, row.cells, t)}
                </p>
              ) : null}
            </div>
          )
        })}
      </div>
      <RowRefused row={row} list={list} />
      <Opening>
        <p className="flex items-baseline justify-between gap-2 pt-3">
          <span className="field-label">{t('oxygenOfRow')}</span>
          <RowFigure row={row} list={list}>
            {(figure) => <OpeningNumber spoken={figure}>{figure}</OpeningNumber>}
          </RowFigure>
        </p>
        <div className="-mx-4">
          <OpeningPanel>
            <RowTerms row={row} index={index} list={list} crew={crew} />
          </OpeningPanel>
        </div>
      </Opening>
      {isMore ? null : (
        <p className="pt-3">
          <button type="button" className="state-again" onClick={() => setIsMore(true)}>
            {t('moreBoxes')}
          </button>
        </p>
      )}
      <div className="flex flex-col gap-3 py-4">
        <Button isWide onClick={() => onGo(index + 1)}>
          {t(index + 1 < sheet.rows.length ? 'nextRow' : 'addNext')}
        </Button>
        <div className="flex gap-3">
          <Button isWide isRow onClick={onDone}>
            {t('allRows')}
          </Button>
          {row.doneCount === 0 ? (
            <Button
              isWide
              isRow
              onClick={() => {
                sheet.remove(index)
                onDone()
              }}
            >
              {t('takeOff')}
            </Button>
          ) : null}
        </div>
      </div>
    </section>
  )
}

/** What a phone shows of a row before more is asked for; a gouge is nothing without the person's own gas. */
function isUsual(column: SheetColumn, { shape = '', task = '' }: SheetCells): boolean {
  if (!SELDOM_COLUMNS.has(column) || column === 'task') return true
  if (column.startsWith('own')) return isShape(shape) && isByArea(shape)
  return task !== '' && task !== 'sever' && ['along', 'into', 'part'].includes(column)
}

/** Why a row whose boxes can all be read gives no number. */
function RowRefused({ row, list }: Readonly<{ row: SheetRow; list: ListSettings }>) {
  const say = useRefusalWords(usePrefs())
  const numbers = row.input ? rowNumbers(row.input, list) : null
  if (!numbers || numbers.ok) return null
  return (
    <div className="trouble py-2" role="status">
      <AnswerMark name="refused" />
      <div>
        {numbers.refusals.map((refusal) => (
          <p key={`${refusal.code} ${refusal.field}`}>{say(refusal)}</p>
        ))}
      </div>
    </div>
  )
}
