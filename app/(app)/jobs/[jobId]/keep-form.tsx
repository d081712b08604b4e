'use client'

import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { keepEstimateAction } from './actions'

/** "Keep" stores the numbers as they stand, with their inputs and sources: the audit needs them later. */
export function KeepForm({ cutListId }: Readonly<{ cutListId: string }>) {
  const t = useTranslations('jobs')
  const [isKept, setIsKept] = useState(false)
  return (
    <KeptForm
      id={`keep-${cutListId}`}
      action={keepEstimateAction}
      onDone={() => setIsKept(true)}
      className="border-b border-rule px-4 py-3 desk:px-0"
    >
      <input type="hidden" name="cutListId" value={cutListId} />
      <SubmitButton kind="plain">{t('keep')}</SubmitButton>
      <p className="field-note" role="status">
        {t(isKept ? 'keptNow' : 'keepNote')}
      </p>
    </KeptForm>
  )
}
