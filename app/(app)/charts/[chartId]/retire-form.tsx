'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { retireChartAction } from '../actions'

export function RetireForm({ chartId }: Readonly<{ chartId: string }>) {
  const t = useTranslations('charts')
  return (
    <KeptForm
      id={`retire-${chartId}`}
      action={retireChartAction}
      className="mt-6 border-t border-rule pt-4 desk:max-w-[420px]"
    >
      <input type="hidden" name="chartId" value={chartId} />
      <SubmitButton kind="plain">{t('retire')}</SubmitButton>
      <p className="field-note">{t('retireNote')}</p>
    </KeptForm>
  )
}
