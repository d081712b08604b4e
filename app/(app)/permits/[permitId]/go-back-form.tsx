'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { PinField, SelectField, type SelectOption } from '@/app/_components/form/text-field'
import { withdrawStopAction } from './actions'
import { PermitFields } from './permit-fields'

/** "Not stopped, go back": the press stays in the record, the permit stays held. */
export function GoBackForm({
  permitId,
  people,
}: Readonly<{ permitId: string; people: readonly SelectOption[] }>) {
  const t = useTranslations('permit.goBack')
  return (
    <KeptForm
      id={`go-back-${permitId}`}
      action={withdrawStopAction}
      refusedTitle={t('refused')}
      className="grid gap-3 py-3"
    >
      <PermitFields permitId={permitId} />
      <SelectField name="personId" label={t('who')} options={people} />
      <PinField label={t('pin')} />
      <SubmitButton kind="plain">{t('send')}</SubmitButton>
    </KeptForm>
  )
}
