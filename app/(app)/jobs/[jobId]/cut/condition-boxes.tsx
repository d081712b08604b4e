'use client'

import { useTranslations } from 'next-intl'
import { PlainTick } from '@/app/_components/form/plain-tick'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { CUT_CONDITIONS } from '@/lib/schemas/cut-dims'
import type { AskedCut } from './asked-cut'
import type { TypedCut } from './typed-from'

/** Where it starts and what slows it down. */
export function ConditionBoxes({ typed, asked }: AskedCut & Readonly<{ typed: TypedCut }>) {
  const t = useTranslations('jobs')
  return (
    <>
      <fieldset>
        <legend className="field-label">{t('conditions')}</legend>
        {CUT_CONDITIONS.map((code) => (
          <PlainTick
            key={code}
            name={code}
            label={t(`condition.${code}`)}
            isTicked={typed.conditions.includes(code)}
          />
        ))}
        <p className="field-note">{t('conditionsNote')}</p>
      </fieldset>
      <details
        className="fold is-spaced"
        hidden={!asked.has('start')}
        open={typed.start !== '' || Boolean(typed.boxes.restarts) || undefined}
      >
        <summary className="field-label">{t('startsTitle')}</summary>
        <div className="flex flex-col gap-4 pt-3">
          <SelectField
            name="start"
            label={t('start')}
            defaultValue={typed.start}
            emptyLabel={t('starts.usual')}
            options={(['edge', 'inside'] as const).map((code) => ({
              value: code,
              label: t(`starts.${code}`),
            }))}
          />
          <TextField
            name="restarts"
            label={t('restarts')}
            note={t('restartsNote')}
            inputMode="numeric"
            defaultValue={typed.boxes.restarts ?? ''}
          />
        </div>
      </details>
    </>
  )
}
