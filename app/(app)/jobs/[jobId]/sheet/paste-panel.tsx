'use client'

import { useTranslations } from 'next-intl'
import { useId, useMemo, useState } from 'react'
import { Button } from '@/app/_components/controls/button'
import type { SheetCells } from '@/lib/schemas/sheet-columns'
import type { SheetUnits } from '@/lib/schemas/sheet-measure'
import { readPasted } from '@/lib/schemas/sheet-paste'
import { readSheetRow } from '@/lib/schemas/sheet-row'
import { problemWords } from './column-words'

type PastePanelProps = Readonly<{
  text: string
  units: SheetUnits
  onAdd: (rows: readonly SheetCells[]) => void
  onLeave: () => void
}>

/** Faults that the preview lists; the sheet marks every one. */
const MOST_LISTED = 100

/** What was pasted is read and shown before it goes in: how many rows, and every cell with something to put right. */
export function PastePanel({ text: first, units, onAdd, onLeave }: PastePanelProps) {
  const t = useTranslations('sheet')
  const id = useId()
  const [text, setText] = useState(first)
  const pasted = useMemo(() => readPasted(text), [text])
  const wrong = useMemo(
    () =>
      pasted.rows.flatMap((cells, at) => {
        const read = readSheetRow(cells, units)
        return read.ok ? [] : [{ at, cells, problems: read.problems }]
      }),
    [pasted, units],
  )
  const count = pasted.rows.length
  return (
    <section className="sheet-paste" aria-labelledby={`${id}-head`}>
      <h2 id={`${id}-head`} className="type-section">
        {t('pasteTitle')}
      </h2>
      <label className="field-label" htmlFor={id}>
        {t('pasteLabel')}
      </label>
      <div className="field-box">
        <textarea
          id={id}
          rows={4}
          value={text}
          spellCheck={false}
          // biome-ignore lint/a11y/noAutofocus: it was opened to paste into
          autoFocus
          onChange={(event) => setText(event.target.value)}
        />
      </div>
      <p className="field-note">{t('pasteNote')}</p>
      <div role="status" className="type-note">
        {count > 0 ? (
          <p className="font-semibold">{t('pasteRead', { count, wrong: wrong.length })}</p>
        ) : null}
        {count > 0 && !pasted.hasHead ? <p>{t('noHead')}</p> : null}
        {pasted.unknownHeads.length > 0 ? (
          <p>{t('unknownHeads', { list: pasted.unknownHeads.join(', ') })}</p>
        ) : null}
        {pasted.isMetalFilled ? <p>{t('metalFilled')}</p> : null}
      </div>
      {wrong.length > 0 ? (
        <ul className="sheet-faults" aria-label={t('faults')}>
          {wrong.slice(0, MOST_LISTED).map(({ at, cells, problems }) => (
            <li key={at}>
              <b>{t('pastedRow', { row: at + 1 })}</b>{' '}
              {problems.map((problem) => problemWords(problem, cells, t)).join(' ')}
            </li>
          ))}
          {wrong.length > MOST_LISTED ? (
            <li>{t('moreFaults', { count: wrong.length - MOST_LISTED })}</li>
          ) : null}
        </ul>
      ) : null}
      <div className="flex flex-wrap gap-3 pt-2">
        {count > 0 ? (
          <Button isRow kind="main" onClick={() => onAdd(pasted.rows)}>
            {t('addPasted', { count })}
          </Button>
        ) : null}
        <Button isRow onClick={onLeave}>
          {t('leavePasted')}
        </Button>
      </div>
    </section>
  )
}
