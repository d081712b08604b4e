'use client'

import { useTranslations } from 'next-intl'
import { FieldWithUnit } from '@/app/_components/form/field-with-unit'
import { TextField } from '@/app/_components/form/text-field'
import { usePrefs } from '@/app/_components/live/prefs'
import { JUDGEMENTS } from '@/lib/calc/judgements'
import { convert } from '@/lib/calc/units'
import { JUDGED_BOXES, type ListSettings } from '@/lib/schemas/list-settings'
import { useBoxUnits } from '../cut/use-box-units'

const text = (value: number | undefined) =>
  value === undefined ? '' : String(Number(value.toPrecision(6)))

/** What the whole list is estimated by: oxygen's purity, the shop's own fuel flow, and every judged figure within its bounds. */
export function ListSettingsBoxes({ settings }: Readonly<{ settings: ListSettings }>) {
  const t = useTranslations('jobs')
  const { flow } = useBoxUnits()
  const isUs = usePrefs().units === 'us'
  const { oxygenPurityPct, ownFuelFlowM3PerS, judgements = {} } = settings
  const flowText = (value: number | undefined) =>
    value === undefined ? '' : text(convert({ value, from: 'm3/s', to: isUs ? 'ft3/h' : 'm3/h' }))
  const changed = JUDGED_BOXES.some((box) => judgements[box] !== undefined)
  return (
    <>
      <TextField
        name="purity"
        label={t('purity')}
        note={t('purityNote')}
        inputMode="decimal"
        defaultValue={text(oxygenPurityPct)}
      />
      <details className="fold is-spaced" open={ownFuelFlowM3PerS !== undefined || undefined}>
        <summary className="field-label">{t('ownFuelFlow')}</summary>
        <p className="field-note">{t('ownFuelFlowNote')}</p>
        <div className="flex flex-col gap-4 pt-3">
          <FieldWithUnit
            name="fuelLow"
            label={t('fuelLow')}
            units={flow}
            defaultValue={flowText(ownFuelFlowM3PerS?.[0])}
          />
          <FieldWithUnit
            name="fuelHigh"
            label={t('fuelHigh')}
            units={flow}
            defaultValue={flowText(ownFuelFlowM3PerS?.[1])}
          />
        </div>
      </details>
      <details className="fold is-spaced" open={changed || undefined}>
        <summary className="field-label">{t('judgedFigures')}</summary>
        <p className="field-note">{t('judgedFiguresNote')}</p>
        <div className="grid gap-4 pt-3 desk:grid-cols-2">
          {JUDGED_BOXES.map((box) => {
            const { usual, min, max } = JUDGEMENTS[box]
            return (
              <TextField
                key={box}
                name={`judged-${box}`}
                label={t(`judgedBox.${box}`)}
                note={t('judgedBounds', { usual, min, max })}
                inputMode="decimal"
                defaultValue={text(judgements[box])}
              />
            )
          })}
        </div>
      </details>
    </>
  )
}
