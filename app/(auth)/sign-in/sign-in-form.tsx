'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { TextField } from '@/app/_components/form/text-field'
import { submitSignIn } from './sign-in'

/** A full load after signing in, so that nothing of the page before it is shown to the new viewer. */
export function SignInForm({ next }: Readonly<{ next: string }>) {
  const t = useTranslations('auth')
  return (
    <KeptForm
      id="sign-in"
      action={submitSignIn}
      onDone={() => window.location.assign(next)}
      refusedTitle={t('refused')}
      className="flex flex-col gap-4"
    >
      <TextField name="email" type="email" label={t('email')} autoComplete="username" isRequired />
      <TextField
        name="password"
        type="password"
        label={t('password')}
        autoComplete="current-password"
        isRequired
      />
      <SubmitButton>{t('signIn')}</SubmitButton>
    </KeptForm>
  )
}
