'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { lookAgainAction } from './actions'

/** Asks for another look through the record. */
export function LookForm({ siteId }: Readonly<{ siteId: string }>) {
  const t = useTranslations('findings')
  return (
    <KeptForm id="look-again" action={lookAgainAction}>
      <input type="hidden" name="siteId" value={siteId} />
      <SubmitButton kind="plain" isWide={false}>
        {t('lookAgain')}
      </SubmitButton>
    </KeptForm>
  )
}
