'use client'

import { useTranslations } from 'next-intl'
import { useMemo, useState } from 'react'
import { Button } from '@/app/_components/controls/button'
import { usePrefs } from '@/app/_components/live/prefs'
import type { ListSettings } from '@/lib/calc/opened-cut'
import type { CrewUsed } from '@/lib/data/crew-factors'
import type { SheetCells } from '@/lib/schemas/sheet-columns'
import { CoatingsBeside } from '../coatings-beside'
import { judgedIn } from '../judged-in'
import { DeskGrid } from './desk-grid'
import { PastePanel } from './paste-panel'
import { PhoneSheet } from './phone-sheet'
import { SaveForm } from './save-form'
import type { StartRow } from './sheet-state'
import { totalsOf } from './sheet-totals'
import { TotalsStrip } from './totals-strip'
import { useIsDesk } from './use-is-desk'
import { useSheet } from './use-sheet'

type SheetProps = Readonly<{
  cutListId: string
  start: readonly StartRow[]
  fuel: string
  process: 'hand' | 'machine'
  list: ListSettings
  crew: CrewUsed | null
}>

/** A new row takes after the one above it: what it is of, not how large. */
const LIKE_ABOVE = ['shape', 'material', 'coating', 'position'] as const
const likeAbove = (cells: SheetCells | undefined): SheetCells =>
  Object.fromEntries(
    LIKE_ABOVE.flatMap((column) => (cells?.[column] ? [[column, cells[column]]] : [])),
  )
const FIRST_ROW: SheetCells = { shape: 'plate', material: 'carbon_steel', position: 'flat' }

/** The estimate as a sheet: rows to fill or paste, totals as they are typed, saved in one act. */
export function EstimateSheet({ cutListId, start, fuel, process, list, crew }: SheetProps) {
  const t = useTranslations('sheet')
  const prefs = usePrefs()
  const isDesk = useIsDesk()
  const context = useMemo(() => ({ units: prefs.units, process }), [prefs.units, process])
  const sheet = useSheet(start, context)
  const [pasted, setPasted] = useState<string | null>(null)
  const [isWideAsked, setIsWideAsked] = useState(false)
  const isWideNeeded = useMemo(() => sheet.rows.some((row) => row.needsWide), [sheet.rows])
  const isWide = isWideAsked || isWideNeeded
  const inputs = useMemo(
    () => sheet.rows.map((row) => row.input).filter((input) => input !== null),
    [sheet.rows],
  )
  const sum = useMemo(() => totalsOf(list), [list])
  const totals = useMemo(() => sum(inputs), [sum, inputs])
  const coatings = useMemo(
    () => [...new Set(inputs.map((input) => input.coating ?? 'none'))],
    [inputs],
  )
  const judged = useMemo(() => judgedIn(inputs, list.judgements), [inputs, list.judgements])
  const addRow = () => {
    const above = sheet.rows.at(-1)?.cells
    sheet.add([above ? likeAbove(above) : FIRST_ROW])
  }
  const shared = { sheet, list, crew, isWide, addRow, onPasteRows: setPasted }
  return (
    <>
      <TotalsStrip
        totals={totals}
        table={list.tipChart ?? null}
        crew={crew}
        judged={judged}
        fuel={fuel}
        prefs={prefs}
        wrong={sheet.wrong.length}
      />
      <CoatingsBeside coatings={coatings} />
      <div className="sheet-tools not-printed">
        <Button isRow onClick={() => setPasted((was) => (was === null ? '' : null))}>
          {t('pasteRows')}
        </Button>
        {isDesk ? (
          <Button isRow onClick={addRow}>
            {t('addRow')}
          </Button>
        ) : null}
        {isDesk && !isWideNeeded ? (
          <Button isRow onClick={() => setIsWideAsked(!isWideAsked)}>
            {t(isWideAsked ? 'usualColumns' : 'allColumns')}
          </Button>
        ) : null}
        {sheet.last ? (
          <p role="status" className="type-note text-ink-2">
            {t('takenOff')}{' '}
            <button type="button" className="state-again" onClick={sheet.putBack}>
              {t('putBack')}
            </button>
          </p>
        ) : null}
      </div>
      {pasted === null ? null : (
        <PastePanel
          key={pasted}
          text={pasted}
          units={prefs.units}
          onAdd={(rows) => {
            sheet.add(rows)
            setPasted(null)
          }}
          onLeave={() => setPasted(null)}
        />
      )}
      {isDesk ? <DeskGrid {...shared} /> : <PhoneSheet {...shared} />}
      <SaveForm cutListId={cutListId} sheet={sheet} />
    </>
  )
}
