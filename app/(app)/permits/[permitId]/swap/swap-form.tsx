'use client'

import { useTranslations } from 'next-intl'
import { type ReactNode, useState } from 'react'
import { FieldWithUnit } from '@/app/_components/form/field-with-unit'
import { KeptForm } from '@/app/_components/form/kept-form'
import { StorageConfirm } from '@/app/_components/form/storage-confirm'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { TickBox } from '@/app/_components/form/tick-box'
import type { FieldUnit } from '@/app/_components/form/typed-number'
import { usePrefs } from '@/app/_components/live/prefs'
import { swapCylinderAction } from './actions'

type SwapFormProps = Readonly<{
  permitId: string
  outfitId: string
  side: 'oxygen' | 'fuel'
  place: number
  off: Readonly<{ id: string; serial: string }> | null
  /** Read by weight where a gauge says little. */
  isWeighed: boolean
  /** The vessel that comes off, drawn with its last reading. */
  vessel: ReactNode
  onSite: readonly string[]
  /** Where the one that comes off may be put down. */
  areas: readonly Readonly<{ id: string; name: string }>[]
}>

const UNITS = {
  gauge: [
    { unit: 'psi', label: 'psi' },
    { unit: 'kPa', label: 'kPa' },
  ],
  temperature: [
    { unit: 'degF', label: '°F' },
    { unit: 'degC', label: '°C' },
  ],
  weight: [
    { unit: 'lb', label: 'lb' },
    { unit: 'kg', label: 'kg' },
  ],
} as const

/** One act on one screen: the vessel coming off at the left, the one going on at the right, one button that names both. */
export function SwapForm({
  permitId,
  outfitId,
  side,
  place,
  off,
  isWeighed,
  vessel,
  onSite,
  areas,
}: SwapFormProps) {
  const t = useTranslations('permit.swap')
  const [serial, setSerial] = useState('')
  const on = serial.trim().toUpperCase()
  const label =
    off && on
      ? t('swapBoth', { off: off.serial, on })
      : on
        ? t('putOn', { on })
        : t(off ? 'swap' : 'putOnNone')
  return (
    <KeptForm
      id={`swap-${permitId}-${side}-${place}`}
      action={swapCylinderAction}
      refusedTitle={t('refused')}
      className="px-4 py-3 desk:px-0 [&>.refusal]:-mx-4"
    >
      <input type="hidden" name="permitId" value={permitId} />
      <input type="hidden" name="outfitId" value={outfitId} />
      <input type="hidden" name="side" value={side} />
      <input type="hidden" name="place" value={place} />
      {off ? <input type="hidden" name="offCylinderId" value={off.id} /> : null}
      <div className="grid gap-5 desk:grid-cols-2 desk:gap-12">
        {off ? (
          <section className="grid content-start gap-3">
            <h2 className="type-row-title border-b-2 border-ink pb-1">
              {t('off', { serial: off.serial })}
            </h2>
            <div className="-mx-4">{vessel}</div>
            <OffReading isWeighed={isWeighed} />
            <TickBox name="markedEmpty">{t('markedEmpty')}</TickBox>
            {areas.length > 0 ? (
              <SelectField
                name="offAreaId"
                label={t('putDown')}
                emptyLabel={t('putDownNone')}
                options={areas.map((area) => ({ value: area.id, label: area.name }))}
              />
            ) : null}
          </section>
        ) : null}
        <section className="grid content-start gap-3">
          <h2 className="type-row-title border-b-2 border-ink pb-1">{t('on')}</h2>
          <div onInput={(event) => setSerial((event.target as HTMLInputElement).value)}>
            <TextField
              name="onSerial"
              label={t('serial')}
              isIdentity
              autoComplete="off"
              maxLength={40}
              note={t('serialNote')}
            />
          </div>
          {onSite.length > 0 ? (
            <p className="type-note text-ink-2">
              {t('onSite')} <span className="type-ident">{onSite.join(', ')}</span>
            </p>
          ) : null}
          <TickBox name="shutAndBled">{t('shutAndBled')}</TickBox>
          <TickBox name="leakTested">{t('leakTested')}</TickBox>
          <StorageConfirm />
          <SubmitButton>{label}</SubmitButton>
        </section>
      </div>
    </KeptForm>
  )
}

function OffReading({ isWeighed }: Readonly<{ isWeighed: boolean }>) {
  const t = useTranslations('permit.swap')
  const { units } = usePrefs()
  const order = ([us, si]: readonly [FieldUnit, FieldUnit]): readonly [FieldUnit, FieldUnit] =>
    units === 'si' ? [si, us] : [us, si]
  return (
    <>
      <div className="grid grid-cols-2 gap-3">
        <FieldWithUnit name="gauge" label={t('gauge')} units={order(UNITS.gauge)} />
        <FieldWithUnit
          name="temperature"
          label={t('temperature')}
          units={order(UNITS.temperature)}
        />
      </div>
      {isWeighed ? (
        <FieldWithUnit
          name="weight"
          label={t('weight')}
          units={order(UNITS.weight)}
          note={t('weightNote')}
        />
      ) : null}
    </>
  )
}
