'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { usePrefs } from '@/app/_components/live/prefs'
import type { AreaDrawing } from '@/lib/permit/drawing'
import { MARK_KINDS } from '@/lib/permit/drawing'
import { blankDrawing } from '@/lib/permit/drawing-edit'
import { drawingFindings } from '@/lib/permit/drawing-findings'
import type { LayerId } from '@/lib/rules/types'
import { PermitFields } from '../permit-fields'
import { keepDrawingAction } from './actions'
import { AddByList } from './add-by-list'
import { FindingRows } from './finding-rows'
import { MarkForm } from './mark-form'
import { MarkIcon } from './mark-shape'
import { SheetSettings } from './sheet-settings'
import { SheetTabs } from './sheet-tabs'
import { SheetView } from './sheet-view'
import { type Tool, useDrawing } from './use-drawing'

/** A hundred feet or thirty metres: the circle of 35 ft and some room around it. */
const SIDE_M = { us: 30.48, si: 30 } as const

type DrawingEditorProps = Readonly<{
  permitId: string
  drawn: AreaDrawing | null
  fromBefore: Readonly<{ drawing: AreaDrawing; number: string }> | null
  revision: number
  layers: readonly LayerId[]
  canDraw: boolean
}>

/** The area to scale: by touch, by keys, or as a list; what lies too near is found as it is drawn. */
export function DrawingEditor(props: DrawingEditorProps) {
  const { permitId, drawn, fromBefore, revision, layers, canDraw } = props
  const t = useTranslations('permit.drawing')
  const { units } = usePrefs()
  const router = useRouter()
  const blank = blankDrawing({ sheetName: t('thisLevel'), sideM: SIDE_M[units] })
  const hand = useDrawing(`kerfwatch-drawing-${permitId}-${revision}`, drawn ?? blank)
  const { drawing, sheetId, tool, chosenId, set, place } = hand
  const sheet = drawing.sheets.find((one) => one.id === sheetId) ?? drawing.sheets[0]
  const findings = drawingFindings(drawing, layers)
  const chosen = findings.find(({ mark }) => mark.id === chosenId) ?? null
  if (!sheet) return null
  const toolWords = (one: Exclude<Tool, null>) =>
    one === 'work' && sheet.id !== drawing.workSheetId ? t('tools.column') : t(`tools.${one}`)
  return (
    <div className="desk:grid desk:grid-cols-[minmax(0,7fr)_minmax(0,5fr)] desk:gap-x-12 desk:px-8">
      <div className="grid content-start gap-3 px-4 py-2 desk:px-0">
        {fromBefore && !drawn && drawing.marks.length === 0 && canDraw ? (
          <p className="type-note">
            {t('fromBefore', { number: fromBefore.number })}{' '}
            <button
              type="button"
              className="text-link min-h-12 desk:min-h-6"
              onClick={() =>
                set({
                  drawing: fromBefore.drawing,
                  sheetId: fromBefore.drawing.workSheetId,
                  tool: 'work',
                })
              }
            >
              {t('takeOver')}
            </button>
          </p>
        ) : null}
        <SheetTabs drawing={drawing} sheetId={sheet.id} canDraw={canDraw} onChange={set} />
        {canDraw ? (
          <fieldset className="tools">
            <legend className="sr-only">{t('toolsLabel')}</legend>
            {(['work', ...MARK_KINDS] as const).map((one) => (
              <label key={one}>
                <input
                  type="radio"
                  name="tool"
                  checked={tool === one}
                  onChange={() => set({ tool: one, chosenId: null })}
                  onClick={() => {
                    if (tool === one) set({ tool: null })
                  }}
                />
                {one === 'work' ? null : <MarkIcon kind={one} />}
                <span>{toolWords(one)}</span>
              </label>
            ))}
          </fieldset>
        ) : null}
        <p className="type-note" role="status">
          {tool ? t('tapToPlace', { what: toolWords(tool) }) : t('tapToChoose')}
        </p>
        <SheetView
          drawing={drawing}
          sheet={sheet}
          findings={findings}
          chosenId={chosenId}
          placing={canDraw && tool ? toolWords(tool) : null}
          onPlace={(at) =>
            place(at, tool && tool !== 'work' && tool !== 'move' ? toolWords(tool) : '')
          }
          onChoose={(id) => set({ chosenId: id })}
        />
        {chosen && canDraw ? <MarkForm key={chosen.mark.id} finding={chosen} hand={hand} /> : null}
      </div>
      <div className="desk:py-2">
        <FindingRows findings={findings} hand={hand} canDraw={canDraw} />
        {canDraw ? <AddByList hand={hand} /> : null}
        {canDraw ? (
          <SheetSettings key={sheet.id} permitId={permitId} sheet={sheet} hand={hand} />
        ) : null}
        {canDraw ? (
          <KeptForm
            id={`drawing-${permitId}-${revision}`}
            action={keepDrawingAction}
            refusedTitle={t('refused')}
            onDone={() => {
              hand.forget()
              router.refresh()
            }}
            className="sticky bottom-0 z-10 border-t border-rule bg-paper px-4 py-2.5 desk:static desk:px-0"
          >
            <PermitFields permitId={permitId} />
            <input type="hidden" name="revision" value={revision} />
            <input type="hidden" name="drawing" value={JSON.stringify(drawing)} />
            <SubmitButton>{t('keep')}</SubmitButton>
          </KeptForm>
        ) : (
          <p className="px-4 py-3 type-note desk:px-0">{t('lookOnly')}</p>
        )}
      </div>
    </div>
  )
}
