'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { TextField } from '@/app/_components/form/text-field'
import { withdrawPermitAction } from '../actions'
import { PermitFields } from '../permit-fields'

export function WithdrawForm({
  permitId,
  version,
}: Readonly<{ permitId: string; version: number }>) {
  const t = useTranslations('permit.withdraw')
  return (
    <KeptForm
      id={`withdraw-${permitId}`}
      action={withdrawPermitAction}
      refusedTitle={t('refused')}
      className="grid gap-3"
    >
      <PermitFields permitId={permitId} version={version} />
      <p>{t('words')}</p>
      <TextField name="reason" label={t('why')} maxLength={300} />
      <SubmitButton>{t('send')}</SubmitButton>
    </KeptForm>
  )
}
