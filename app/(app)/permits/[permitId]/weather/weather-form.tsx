'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { FieldWithUnit } from '@/app/_components/form/field-with-unit'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { TextField } from '@/app/_components/form/text-field'
import { ThreeWayAnswer } from '@/app/_components/form/three-way-answer'
import { usePrefs } from '@/app/_components/live/prefs'
import { PermitFields } from '../permit-fields'
import { windUnits } from '../wind-units'
import { reportWeatherAction } from './actions'

/** Says what the weather does; whatever it forbids is held by the time the page is back. */
export function WeatherForm({
  permitId,
  canLift,
}: Readonly<{ permitId: string; canLift: boolean }>) {
  const t = useTranslations('permit.weather')
  const { units } = usePrefs()
  const router = useRouter()
  const [kind, setKind] = useState('')
  return (
    <KeptForm
      id={`weather-${permitId}`}
      action={reportWeatherAction}
      refusedTitle={t('refused')}
      onDone={({ isHeld }) => {
        if (isHeld) router.push(`/permits/${permitId}`)
        else router.refresh()
      }}
      className="grid gap-3"
    >
      <PermitFields permitId={permitId} />
      <ThreeWayAnswer
        name="kind"
        label={t('ask')}
        onAnswered={setKind}
        options={[
          { value: 'wind', label: t('kinds.wind'), mark: 'done' },
          {
            value: 'burn_ban',
            label: t('kinds.burn_ban'),
            mark: 'refused',
            consequence: t('banThen'),
          },
          ...(canLift
            ? [{ value: 'ban_lifted', label: t('kinds.ban_lifted'), mark: 'done' as const }]
            : []),
        ]}
      />
      {kind === 'wind' ? (
        <FieldWithUnit name="wind" label={t('wind')} units={windUnits(units)} />
      ) : null}
      <TextField name="words" label={t('words')} maxLength={200} />
      <SubmitButton>{t('send')}</SubmitButton>
    </KeptForm>
  )
}
