'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { TickBox } from '@/app/_components/form/tick-box'
import { endWorkAction } from '../actions'
import { PermitFields } from '../permit-fields'

export function EndForm({
  permitId,
  version,
  words,
}: Readonly<{ permitId: string; version: number; words: string }>) {
  const t = useTranslations('permit.end')
  return (
    <KeptForm
      id={`end-${permitId}`}
      action={endWorkAction}
      refusedTitle={t('refused')}
      className="grid gap-3"
    >
      <PermitFields permitId={permitId} version={version} />
      <TickBox name="torchOut">{t('torchOut')}</TickBox>
      <TickBox name="valvesShut">{t('valvesShut')}</TickBox>
      <p>{words}</p>
      <SubmitButton>{t('send')}</SubmitButton>
    </KeptForm>
  )
}
