'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { PinField, SelectField, TextField } from '@/app/_components/form/text-field'
import { changePinAction, savePrefsAction } from './actions'

type PrefsFormProps = Readonly<{ units: string; clock: string; theme: string }>

export function PrefsForm({ units, clock, theme }: PrefsFormProps) {
  const t = useTranslations('me')
  const router = useRouter()
  const [isSaved, setIsSaved] = useState(false)
  const options = <T extends string>(name: 'units' | 'clock' | 'theme', values: readonly T[]) =>
    values.map((value) => ({ value, label: t(`${name}.${value}` as 'units.us') }))
  return (
    <KeptForm
      id="me-prefs"
      action={savePrefsAction}
      refusedTitle={t('notSaved')}
      onDone={() => {
        setIsSaved(true)
        router.refresh()
      }}
      className="grid gap-4"
    >
      <SelectField
        name="units"
        label={t('unitsLabel')}
        defaultValue={units}
        options={options('units', ['us', 'si'])}
      />
      <SelectField
        name="clock"
        label={t('clockLabel')}
        defaultValue={clock}
        options={options('clock', ['24', '12'])}
      />
      <SelectField
        name="theme"
        label={t('themeLabel')}
        defaultValue={theme}
        options={options('theme', ['device', 'light', 'dark'])}
      />
      <SubmitButton>{t('save')}</SubmitButton>
      <p className="type-note" role="status">
        {isSaved ? t('saved') : null}
      </p>
    </KeptForm>
  )
}

export function PinForm() {
  const t = useTranslations('me')
  const [isChanged, setIsChanged] = useState(false)
  return (
    <KeptForm
      id="me-pin"
      action={changePinAction}
      refusedTitle={t('pinNotChanged')}
      onDone={() => setIsChanged(true)}
      className="grid gap-4"
    >
      <PinField name="pin" label={t('pinNow')} isRequired={false} />
      <TextField
        name="password"
        type="password"
        label={t('orPassword')}
        note={t('orPasswordNote')}
        autoComplete="current-password"
        maxLength={200}
      />
      <PinField name="newPin" label={t('pinNew')} note={t('pinNote')} />
      <PinField name="newPinAgain" label={t('pinAgain')} />
      <SubmitButton kind="plain">{t('pinSend')}</SubmitButton>
      <p className="type-note" role="status">
        {isChanged ? t('pinChanged') : null}
      </p>
    </KeptForm>
  )
}
