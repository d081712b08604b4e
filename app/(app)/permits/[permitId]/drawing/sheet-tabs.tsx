'use client'

import { useTranslations } from 'next-intl'
import type { AreaDrawing } from '@/lib/permit/drawing'
import { M_PER_FT } from '@/lib/permit/drawing'
import { withLevel } from '@/lib/permit/drawing-edit'
import type { Hand } from './use-drawing'
import { useDistanceWords } from './words'

const LEVEL_M = 3
const MOST = 8

type SheetTabsProps = Readonly<{
  drawing: AreaDrawing
  sheetId: string
  canDraw: boolean
  onChange: Hand['set']
}>

/** The levels, topmost first; one is shown. */
export function SheetTabs({ drawing, sheetId, canDraw, onChange }: SheetTabsProps) {
  const t = useTranslations('permit.drawing')
  const distance = useDistanceWords()
  const levels = drawing.sheets.toSorted((a, b) => b.heightM - a.heightM)
  const add = (direction: 1 | -1) => {
    const edge = Math[direction === 1 ? 'max' : 'min'](...levels.map((one) => one.heightM))
    const heightM = edge + direction * LEVEL_M
    const name = t(direction === 1 ? 'levelAbove' : 'levelBelow')
    const [next, id] = withLevel(drawing, { name, heightM })
    onChange({ drawing: next, sheetId: id, chosenId: null, tool: null })
  }
  return (
    <div className="flex flex-wrap items-center gap-2">
      <fieldset className="flex flex-wrap gap-2">
        <legend className="sr-only">{t('levels')}</legend>
        {levels.map((sheet) => (
          <button
            key={sheet.id}
            type="button"
            className="btn btn-row"
            aria-pressed={sheet.id === sheetId}
            onClick={() => onChange({ sheetId: sheet.id, chosenId: null })}
          >
            {sheet.id === sheetId ? (
              <span aria-hidden="true" className="h-1 w-4 bg-cobalt" />
            ) : null}
            {sheet.name}
            {sheet.heightM === 0 ? null : (
              <span className="type-small font-normal">
                {t(sheet.heightM > 0 ? 'higher' : 'lower', {
                  height: distance(Math.abs(sheet.heightM) / M_PER_FT),
                })}
              </span>
            )}
          </button>
        ))}
      </fieldset>
      {canDraw && drawing.sheets.length < MOST ? (
        <>
          <button type="button" className="text-link min-h-12 desk:min-h-6" onClick={() => add(1)}>
            {t('addAbove')}
          </button>
          <button type="button" className="text-link min-h-12 desk:min-h-6" onClick={() => add(-1)}>
            {t('addBelow')}
          </button>
        </>
      ) : null}
    </div>
  )
}
