'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { PinField, TextField } from '@/app/_components/form/text-field'
import { beginAction } from './actions'

/** The session ends with the old password, so the way on is the sign-in page. */
export function BeginForm() {
  const t = useTranslations('begin')
  const password = { type: 'password', autoComplete: 'new-password', maxLength: 200 } as const
  return (
    <KeptForm
      id="begin"
      action={beginAction}
      onDone={() => window.location.assign('/sign-in')}
      refusedTitle={t('refused')}
      className="flex flex-col gap-4"
    >
      <TextField name="newPassword" label={t('password')} note={t('passwordNote')} {...password} />
      <TextField name="newPasswordAgain" label={t('passwordAgain')} {...password} />
      <PinField name="newPin" label={t('pin')} note={t('pinNote')} />
      <PinField name="newPinAgain" label={t('pinAgain')} />
      <SubmitButton>{t('save')}</SubmitButton>
    </KeptForm>
  )
}
