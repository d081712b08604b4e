'use client'

import { useTranslations } from 'next-intl'
import { useRef, useState } from 'react'
import { Button } from '@/app/_components/controls/button'
import { usePrefs } from '@/app/_components/live/prefs'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { columnUnit } from './column-words'
import type { RowsProps } from './desk-grid'
import { RowFigure } from './grid-row'
import { RowEditor } from './row-editor'
import type { SheetRow } from './sheet-state'
import { useWindow } from './use-window'

const ROW_PX = 66

/** A row at a time under the thumb: the list, or one row's boxes. */
export function PhoneSheet(props: RowsProps) {
  const { sheet, addRow } = props
  const t = useTranslations('sheet')
  const [open, setOpen] = useState<number | null>(null)
  if (open !== null && sheet.rows[open])
    return (
      <RowEditor
        {...props}
        index={open}
        onGo={(index) => {
          if (index >= sheet.rows.length) addRow()
          setOpen(index)
        }}
        onDone={() => setOpen(null)}
      />
    )
  return (
    <>
      <PhoneList {...props} onOpen={setOpen} />
      <div className="px-4 py-3">
        <Button
          isWide
          onClick={() => {
            addRow()
            // An empty last row is filled, not followed by another.
            const filled = sheet.rows.filter((row) => row.original || !row.isEmpty).length
            setOpen(filled)
          }}
        >
          {t('addRow')}
        </Button>
      </div>
    </>
  )
}

function PhoneList({ sheet, list, onOpen }: RowsProps & { onOpen: (index: number) => void }) {
  const t = useTranslations('sheet')
  const room = useRef<HTMLDivElement>(null)
  const { rows } = sheet
  const view = useWindow(room, { count: rows.length, rowPx: ROW_PX, headPx: 0 })
  if (rows.length === 0) return <p className="state">{t('empty.sheet')}</p>
  return (
    <section ref={room} className="sheet-list" onScroll={view.onScroll} aria-label={t('caption')}>
      <ol style={{ paddingTop: view.topPx, paddingBottom: view.bottomPx }} start={view.from + 1}>
        {rows.slice(view.from, view.to).map((row, at) => (
          <li key={row.key} style={{ height: ROW_PX }}>
            <button type="button" onClick={() => onOpen(view.from + at)}>
              <span className="sheet-list-number">{view.from + at + 1}</span>
              <span className="sheet-list-words">
                <RowWords row={row} />
              </span>
              <span className="sheet-list-figure">
                <RowFigure row={row} list={list} />
              </span>
            </button>
          </li>
        ))}
      </ol>
    </section>
  )
}

const MEASURES = ['section', 'thickness', 'width', 'length'] as const

/** "Plate 1 in, 18 ft" and how many, as typed; or what the row still wants. */
function RowWords({ row }: Readonly<{ row: SheetRow }>) {
  const t = useTranslations('sheet')
  const { units } = usePrefs()
  const { cells, read } = row
  const shape = `choice.shape.${cells.shape ?? ''}` as 'choice.shape.plate'
  const withUnit = (column: (typeof MEASURES)[number]) => {
    const text = cells[column]?.trim() ?? ''
    const unit = columnUnit(column, units)
    return text && unit && /\d$/.test(text) ? `${text} ${unit}` : text
  }
  const measures = MEASURES.map(withUnit).filter(Boolean).join(', ')
  const name = cells.title?.trim() || (t.has(shape) ? t(shape) : t('newRow'))
  const wrong = read.ok ? 0 : read.problems.length
  return (
    <>
      <b>{cells.title?.trim() ? name : `${name} ${measures}`.trim()}</b>
      {wrong > 0 && !row.isEmpty ? (
        <span className="trouble">
          <AnswerMark name="to-answer" />
          {t('cellsToPutRight', { count: wrong })}
        </span>
      ) : (
        <span>
          {t('rowNote', {
            count: cells.count?.trim() || '0',
            measures: cells.title?.trim() && measures ? `, ${measures}` : '',
          })}
        </span>
      )}
    </>
  )
}
