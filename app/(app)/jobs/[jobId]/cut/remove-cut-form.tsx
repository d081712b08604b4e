'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { removeCutAction } from '../actions'

export function RemoveCutForm({ cutId, version }: Readonly<{ cutId: string; version: number }>) {
  const t = useTranslations('jobs')
  return (
    <KeptForm
      id={`remove-cut-${cutId}`}
      action={removeCutAction}
      refusedTitle={t('removeRefused')}
      className="mt-6 border-t border-rule pt-4"
    >
      <input type="hidden" name="cutId" value={cutId} />
      <input type="hidden" name="version" value={version} />
      <SubmitButton kind="plain">{t('removeCut')}</SubmitButton>
    </KeptForm>
  )
}
