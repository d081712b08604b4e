'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { PinField, SelectField, type SelectOption } from '@/app/_components/form/text-field'
import { reopenPermitAction, resumePermitAction } from '../actions'
import { PermitFields } from '../permit-fields'

type ResumeFormProps = Readonly<{
  permitId: string
  version: number
  contentHash: string
  pais: readonly SelectOption[]
  from: 'hold' | 'watch'
}>

/** Back to work, with the PIN of a PAI who does not cut. */
export function ResumeForm({ permitId, version, contentHash, pais, from }: ResumeFormProps) {
  const t = useTranslations('permit.resume')
  return (
    <KeptForm
      id={`resume-${permitId}`}
      action={from === 'hold' ? resumePermitAction : reopenPermitAction}
      refusedTitle={t('refused')}
      className="grid gap-3"
    >
      <PermitFields permitId={permitId} version={version} contentHash={contentHash} />
      <SelectField name="personId" label={t('pai')} emptyLabel={t('choosePai')} options={pais} />
      <PinField label={t('pin')} />
      <SubmitButton>{t('send')}</SubmitButton>
    </KeptForm>
  )
}
