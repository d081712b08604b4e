'use client'

import { signOut } from 'next-auth/react'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import type { ActionResult } from '@/lib/action-result'

async function submitSignOut(): Promise<ActionResult> {
  await signOut({ redirect: false })
  return { ok: true, data: null }
}

export function SignOutForm() {
  const t = useTranslations('auth')
  return (
    <KeptForm
      id="sign-out"
      action={submitSignOut}
      onDone={() => window.location.assign('/sign-in')}
    >
      <SubmitButton>{t('signOut')}</SubmitButton>
    </KeptForm>
  )
}
