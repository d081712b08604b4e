'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { TextField } from '@/app/_components/form/text-field'
import { TickBox } from '@/app/_components/form/tick-box'
import { holdPermitAction } from '../actions'
import { PermitFields } from '../permit-fields'

type HoldFormProps = Readonly<{
  permitId: string
  version: number
  isEnclosed: boolean
  watcher: string
  watchMin: number
}>

export function HoldForm({ permitId, version, isEnclosed, watcher, watchMin }: HoldFormProps) {
  const t = useTranslations('permit.hold')
  return (
    <KeptForm
      id={`hold-${permitId}`}
      action={holdPermitAction}
      refusedTitle={t('refused')}
      className="grid gap-3"
    >
      <PermitFields permitId={permitId} version={version} />
      <TickBox name="torchOut">{t('torchOut')}</TickBox>
      <TickBox name="valvesShut">{t('valvesShut')}</TickBox>
      {isEnclosed ? <TickBox name="gasOffOutside">{t('gasOffOutside')}</TickBox> : null}
      <TextField name="reason" label={t('why')} maxLength={300} />
      <p>
        {watchMin > 0
          ? t.rich('watches', {
              name: watcher,
              minutes: watchMin,
              b: (words) => <b className="font-[650]">{words}</b>,
            })
          : t('noWatch')}
      </p>
      <SubmitButton>{t('send')}</SubmitButton>
    </KeptForm>
  )
}
