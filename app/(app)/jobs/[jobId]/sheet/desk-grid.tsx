'use client'

import { useTranslations } from 'next-intl'
import { type ClipboardEvent, type KeyboardEvent, useCallback, useRef, useState } from 'react'
import { flushSync } from 'react-dom'
import { usePrefs } from '@/app/_components/live/prefs'
import type { ListSettings } from '@/lib/calc/opened-cut'
import type { CrewUsed } from '@/lib/data/crew-factors'
import { SHEET_COLUMNS, type SheetColumn, USUAL_COLUMNS } from '@/lib/schemas/sheet-columns'
import { columnUnit } from './column-words'
import { GridRow, TERMS_ID } from './grid-row'
import { RowTerms } from './row-terms'
import { SectionLists } from './section-lists'
import type { Sheet } from './use-sheet'
import { useWindow } from './use-window'

export type RowsProps = Readonly<{
  sheet: Sheet
  list: ListSettings
  crew: CrewUsed | null
  /** Also the columns that few cuts need. */
  isWide: boolean
  addRow: () => void
  onPasteRows: (text: string) => void
}>

const ROW_PX = 34
const HEAD_PX = 44

/** Cells as a spreadsheet has them: Tab and the arrows go from cell to cell, Enter goes down. */
export function DeskGrid({ sheet, list, crew, isWide, addRow, onPasteRows }: RowsProps) {
  const t = useTranslations('sheet')
  const { units } = usePrefs()
  const room = useRef<HTMLDivElement>(null)
  const [openKey, setOpenKey] = useState<string | null>(null)
  const toggle = useCallback((key: string) => setOpenKey((was) => (was === key ? null : key)), [])
  const { rows } = sheet
  const columns = isWide ? SHEET_COLUMNS : USUAL_COLUMNS
  const view = useWindow(room, { count: rows.length, rowPx: ROW_PX, headPx: HEAD_PX })
  const focusCell = (index: number, column: string) => {
    flushSync(() => view.show(index))
    const cell = room.current?.querySelector<HTMLInputElement>(
      `[data-row="${index}"][data-column="${column}"]`,
    )
    cell?.focus()
    if (cell instanceof HTMLInputElement) cell.select()
  }
  const onKeyDown = (event: KeyboardEvent<HTMLElement>) => {
    const place = placeOf(event.target)
    if (!place || event.ctrlKey || event.metaKey || event.altKey) return
    const next = nextPlace(event, place, columns)
    if (!next || next.index < 0) return
    event.preventDefault()
    if (next.index >= rows.length) {
      if (event.key !== 'Enter') return
      flushSync(addRow)
    }
    focusCell(next.index, next.column)
  }
  const onPaste = (event: ClipboardEvent<HTMLElement>) => {
    const text = event.clipboardData.getData('text/plain')
    if (!/[\t\n]/.test(text.trim())) return
    event.preventDefault()
    onPasteRows(text)
  }
  const openAt = openKey === null ? -1 : rows.findIndex((row) => row.key === openKey)
  const openRow = rows[openAt]
  return (
    <>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: keys and pasting come from the cells in it */}
      <div
        ref={room}
        className="sheet-room"
        onScroll={view.onScroll}
        onKeyDown={onKeyDown}
        onPaste={onPaste}
      >
        <SectionLists />
        <table className={`sheet-table ${isWide ? 'is-wide' : ''}`} aria-rowcount={rows.length + 1}>
          <caption className="sr-only">{t('caption')}</caption>
          <thead>
            <tr aria-rowindex={1}>
              <th scope="col" className="sheet-col-number">
                <span className="sr-only">{t('row')}</span>
              </th>
              {columns.map((column) => (
                <th key={column} scope="col" className={`sheet-col-${column}`}>
                  {t(`column.${column}`)}
                  <Unit column={column} unit={columnUnit(column, units)} />
                </th>
              ))}
              <th scope="col" className="sheet-col-oxygen is-figure">
                {t('oxygen')}
              </th>
              <th scope="col" className="sheet-col-remove">
                <span className="sr-only">{t('takeOff')}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            <Gap heightPx={view.topPx} columns={columns.length} />
            {rows.slice(view.from, view.to).map((row, at) => (
              <GridRow
                key={row.key}
                row={row}
                index={view.from + at}
                list={list}
                columns={columns}
                onEdit={sheet.edit}
                onRemove={sheet.remove}
                isOpen={row.key === openKey}
                onToggle={toggle}
              />
            ))}
            <Gap heightPx={view.bottomPx} columns={columns.length} />
          </tbody>
        </table>
        {rows.length === 0 ? <p className="state">{t('empty.sheet')}</p> : null}
      </div>
      {openRow ? (
        <section
          id={TERMS_ID}
          className="opening-panel"
          aria-label={t('termsOfRow', { row: openAt + 1 })}
        >
          <RowTerms row={openRow} index={openAt} list={list} crew={crew} />
        </section>
      ) : null}
    </>
  )
}

const Unit = ({ column, unit }: Readonly<{ column: SheetColumn; unit: string | null }>) =>
  unit && column !== 'bevel' && column !== 'miter' ? <span>{unit}</span> : null

/** Stands for the rows that are not drawn. */
const Gap = ({ heightPx, columns }: Readonly<{ heightPx: number; columns: number }>) =>
  heightPx > 0 ? (
    <tr className="sheet-gap">
      <td colSpan={columns + 3} style={{ height: heightPx }} />
    </tr>
  ) : null

type Place = Readonly<{ index: number; column: SheetColumn }>

function placeOf(target: EventTarget): Place | null {
  if (!(target instanceof HTMLElement)) return null
  const { row, column } = target.dataset
  return row === undefined || column === undefined
    ? null
    : { index: Number(row), column: column as SheetColumn }
}

/** Where a key leads from a cell; null where it is the cell's own. */
function nextPlace(
  event: KeyboardEvent<HTMLElement>,
  { index, column }: Place,
  columns: readonly SheetColumn[],
): Place | null {
  const { key, shiftKey, target } = event
  if (key === 'Enter') return { index: index + (shiftKey ? -1 : 1), column }
  if (!(target instanceof HTMLInputElement)) return null
  if (key === 'ArrowDown') return { index: index + 1, column }
  if (key === 'ArrowUp') return { index: index - 1, column }
  const at = columns.indexOf(column)
  const { selectionStart: from, selectionEnd: to, value } = target
  const isWhole = from === 0 && to === value.length
  const aside = (by: number) => {
    const next = columns[at + by]
    return next ? { index, column: next } : null
  }
  if (key === 'ArrowLeft' && (isWhole || (from === 0 && to === 0))) return aside(-1)
  if (key === 'ArrowRight' && (isWhole || (from === value.length && to === value.length)))
    return aside(1)
  return null
}
