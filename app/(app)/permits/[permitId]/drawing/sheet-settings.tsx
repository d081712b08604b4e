'use client'

import { useTranslations } from 'next-intl'
import { type ChangeEvent, type SubmitEvent, useState } from 'react'
import { Button } from '@/app/_components/controls/button'
import { FieldWithUnit } from '@/app/_components/form/field-with-unit'
import { useReasonWords } from '@/app/_components/form/reason-words'
import { TextField } from '@/app/_components/form/text-field'
import { parseTyped } from '@/app/_components/form/typed-number'
import { uploadPicture } from '@/app/_components/form/upload-picture'
import { usePrefs } from '@/app/_components/live/prefs'
import { convert } from '@/lib/calc/units'
import type { DrawnSheet } from '@/lib/permit/drawing'
import { distanceTo, M_PER_FT, rescaled, widthFromKnown } from '@/lib/permit/drawing'
import { withChangedSheet, withoutLevel } from '@/lib/permit/drawing-edit'
import type { Hand } from './use-drawing'

const FEET = { unit: 'ft', label: 'ft' } as const
const METRES = { unit: 'm', label: 'm' } as const

type SheetSettingsProps = Readonly<{ permitId: string; sheet: DrawnSheet; hand: Hand }>

/** The level that is shown: its name, height, scale and the plan behind it. */
export function SheetSettings({ permitId, sheet, hand }: SheetSettingsProps) {
  const t = useTranslations('permit.drawing')
  const { units } = usePrefs()
  const [said, setSaid] = useState('')
  const lengths = units === 'si' ? ([METRES, FEET] as const) : ([FEET, METRES] as const)
  const shown = (metres: number) =>
    String(Number(convert({ value: metres, from: 'm', to: lengths[0].unit }).toFixed(1)))
  const isWork = sheet.id === hand.drawing.workSheetId

  const apply = (event: SubmitEvent<HTMLFormElement>) => {
    event.preventDefault()
    const typed = new FormData(event.currentTarget)
    const text = (name: string) => String(typed.get(name) ?? '')
    const metres = (name: string) => {
      const value = parseTyped(text(name))
      const from = text(`${name}Unit`) === 'm' ? ('m' as const) : ('ft' as const)
      return value === null ? null : convert({ value, from, to: 'm' })
    }
    const widthM = metres('width') ?? sheet.widthM
    const heightM = isWork ? 0 : (metres('height') ?? sheet.heightM)
    if (!(widthM >= 1 && widthM <= 500)) return setSaid(t('sheet.widthRange'))
    const isSameWidth = text('width') === shown(sheet.widthM)
    const scaled = isSameWidth ? hand.drawing : rescaled(hand.drawing, sheet.id, widthM)
    const name = text('name').trim() || sheet.name
    hand.set({ drawing: withChangedSheet(scaled, sheet.id, { name, heightM }) })
    setSaid(t('sheet.applied'))
  }
  return (
    <details className="border-b border-rule px-4 desk:px-0">
      <summary className="text-link flex min-h-12 items-center desk:min-h-10">
        {t('sheet.title', { name: sheet.name })}
      </summary>
      <form onSubmit={apply} noValidate className="grid gap-3 pb-3 desk:max-w-[480px]">
        <TextField name="name" label={t('sheet.name')} defaultValue={sheet.name} maxLength={60} />
        {isWork ? null : (
          <FieldWithUnit
            name="height"
            label={t('sheet.height')}
            note={t('sheet.heightNote')}
            units={lengths}
            defaultValue={shown(sheet.heightM)}
          />
        )}
        <FieldWithUnit
          key={sheet.widthM}
          name="width"
          label={t('sheet.width')}
          units={lengths}
          defaultValue={shown(sheet.widthM)}
        />
        <Button type="submit">{t('sheet.apply')}</Button>
      </form>
      <KnownDistance sheet={sheet} hand={hand} onSaid={setSaid} />
      <PlanChoice permitId={permitId} sheet={sheet} hand={hand} onSaid={setSaid} />
      <p role="status" className="type-note pb-2">
        {said}
      </p>
      {isWork ? null : (
        <p className="pb-3">
          <Button
            isRow
            onClick={() =>
              hand.set({
                drawing: withoutLevel(hand.drawing, sheet.id),
                sheetId: hand.drawing.workSheetId,
                chosenId: null,
              })
            }
          >
            {t('sheet.remove')}
          </Button>
        </p>
      )}
    </details>
  )
}

type PartProps = Readonly<{ sheet: DrawnSheet; hand: Hand; onSaid: (words: string) => void }>

/** The scale from one distance somebody knows: from the work to a thing that is drawn. */
function KnownDistance({ sheet, hand, onSaid }: PartProps) {
  const t = useTranslations('permit.drawing')
  const { units } = usePrefs()
  const chosen = hand.drawing.marks.find(
    (mark) => mark.id === hand.chosenId && mark.sheetId === sheet.id,
  )
  const { column } = sheet
  if (!chosen || !column) return <p className="pb-2 type-note text-ink-2">{t('known.note')}</p>
  const apply = (event: SubmitEvent<HTMLFormElement>) => {
    event.preventDefault()
    const typed = new FormData(event.currentTarget)
    const value = parseTyped(String(typed.get('known') ?? ''))
    const from = typed.get('knownUnit') === 'm' ? ('m' as const) : ('ft' as const)
    const knownM = value === null ? 0 : convert({ value, from, to: 'm' })
    const widthM = widthFromKnown({ widthM: sheet.widthM, from: column, to: chosen.at, knownM })
    if (widthM === null || widthM < 1 || widthM > 500) return onSaid(t('known.cannot'))
    hand.set({ drawing: rescaled(hand.drawing, sheet.id, widthM) })
    onSaid(t('sheet.applied'))
  }
  const drawnFt = distanceTo(hand.drawing, chosen)?.levelFt ?? 0
  return (
    <form onSubmit={apply} noValidate className="grid gap-3 pb-3 desk:max-w-[480px]">
      <FieldWithUnit
        name="known"
        label={t('known.label', { label: chosen.label })}
        units={units === 'si' ? [METRES, FEET] : [FEET, METRES]}
        note={t('known.drawn', {
          distance: Math.round(units === 'si' ? drawnFt * M_PER_FT : drawnFt),
          unit: units === 'si' ? 'm' : 'ft',
        })}
      />
      <Button type="submit">{t('known.apply')}</Button>
    </form>
  )
}

function PlanChoice({ permitId, sheet, hand, onSaid }: PartProps & Readonly<{ permitId: string }>) {
  const t = useTranslations('permit.drawing')
  const words = useReasonWords()
  const [isSending, setSending] = useState(false)
  const send = async (event: ChangeEvent<HTMLInputElement>) => {
    const file = event.target.files?.[0]
    event.target.value = ''
    if (!file) return
    setSending(true)
    onSaid(t('plan.sending'))
    const sent = await uploadPicture(file, { permitId, purpose: 'plan' })
    setSending(false)
    if (!sent.ok) return onSaid(words({ code: sent.code, params: sent.params }).what)
    const depthM = (sheet.widthM * sent.heightPx) / sent.widthPx
    hand.set({
      drawing: withChangedSheet(hand.drawing, sheet.id, { pictureId: sent.pictureId, depthM }),
    })
    onSaid(t('plan.there'))
  }
  return (
    <div className="grid gap-2 pb-3">
      <label className="btn btn-row relative cursor-pointer has-focus-visible:outline-3 has-focus-visible:outline-offset-3 has-focus-visible:outline-cobalt">
        {t(sheet.pictureId ? 'plan.another' : 'plan.choose')}
        <input
          type="file"
          accept="image/png,image/jpeg"
          className="absolute inset-0 opacity-0"
          disabled={isSending}
          onChange={send}
        />
      </label>
      <p className="type-note text-ink-2">{t('plan.note')}</p>
      {sheet.pictureId ? (
        <Button
          isRow
          onClick={() =>
            hand.set({
              drawing: withChangedSheet(hand.drawing, sheet.id, { pictureId: null }),
            })
          }
        >
          {t('plan.takeAway')}
        </Button>
      ) : null}
    </div>
  )
}
