'use client'

import { useTranslations } from 'next-intl'
import { type SubmitEvent, useState } from 'react'
import { Button } from '@/app/_components/controls/button'
import { FieldWithUnit } from '@/app/_components/form/field-with-unit'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { parseTyped } from '@/app/_components/form/typed-number'
import { usePrefs } from '@/app/_components/live/prefs'
import { convert } from '@/lib/calc/units'
import type { MarkKind } from '@/lib/permit/drawing'
import { MARK_KINDS } from '@/lib/permit/drawing'
import { measuredFrom, withMark } from '@/lib/permit/drawing-edit'
import type { Hand } from './use-drawing'

const FEET = { unit: 'ft', label: 'ft' } as const
const METRES = { unit: 'm', label: 'm' } as const
const HOURS = [12, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11] as const

/** A thing put down without pointing: what, how far by tape, and toward which hour of a clock. */
export function AddByList({ hand }: Readonly<{ hand: Hand }>) {
  const t = useTranslations('permit.drawing')
  const { units } = usePrefs()
  const [added, setAdded] = useState(0)
  const [said, setSaid] = useState('')
  const { drawing, sheetId, set } = hand
  const add = (event: SubmitEvent<HTMLFormElement>) => {
    event.preventDefault()
    const typed = new FormData(event.currentTarget)
    const text = (name: string) => String(typed.get(name) ?? '')
    const value = parseTyped(text('far'))
    const kind: MarkKind = MARK_KINDS.find((one) => one === text('kind')) ?? 'burnable'
    if (value === null || value < 0) return setSaid(t('list.typeDistance'))
    const from = text('farUnit') === 'm' ? 'm' : 'ft'
    const distanceM = convert({ value, from, to: 'm' })
    const put = measuredFrom(drawing, sheetId, { distanceM, clock: Number(text('clock')) })
    if (!put) return setSaid(t('list.notOnSheet'))
    const label = text('label').trim() || t(`tools.${kind}`)
    const [next, id] = withMark(drawing, { kind, sheetId, label, ...put })
    set({ drawing: next, chosenId: id, tool: null })
    setSaid(t('list.added', { label }))
    setAdded((count) => count + 1)
  }
  return (
    <details className="border-b border-rule px-4 desk:px-0">
      <summary className="text-link flex min-h-12 items-center desk:min-h-10">
        {t('list.title')}
      </summary>
      <form onSubmit={add} noValidate className="grid gap-3 pb-3 desk:max-w-[480px]">
        <p className="type-note text-ink-2">{t('list.note')}</p>
        <div key={added} className="grid gap-3">
          <SelectField
            name="kind"
            label={t('list.kind')}
            options={MARK_KINDS.map((value) => ({ value, label: t(`tools.${value}`) }))}
          />
          <TextField name="label" label={t('label')} maxLength={60} />
          <FieldWithUnit
            name="far"
            label={t('list.far')}
            units={units === 'si' ? [METRES, FEET] : [FEET, METRES]}
          />
          <SelectField
            name="clock"
            label={t('list.toward')}
            options={HOURS.map((hour) => ({
              value: String(hour),
              label: t('list.hour', { hour }),
            }))}
          />
        </div>
        <p role="status" className="type-note">
          {said}
        </p>
        <Button type="submit">{t('list.add')}</Button>
      </form>
    </details>
  )
}
