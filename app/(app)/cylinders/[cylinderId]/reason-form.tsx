'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { TextField } from '@/app/_components/form/text-field'
import { quarantineAction, releaseAction } from './actions'

const ACTIONS = { quarantine: quarantineAction, release: releaseAction } as const

type ReasonFormProps = Readonly<{ cylinderId: string; act: keyof typeof ACTIONS }>

/** Holding a cylinder back, or letting it go again, each with its reason. */
export function ReasonForm({ cylinderId, act }: ReasonFormProps) {
  const t = useTranslations('cylinders')
  return (
    <KeptForm
      id={`${act}-${cylinderId}`}
      action={ACTIONS[act]}
      refusedTitle={t('actRefused')}
      className="flex flex-col gap-2"
    >
      <input type="hidden" name="cylinderId" value={cylinderId} />
      <TextField name="reason" label={t(`reasonFor.${act}`)} maxLength={300} />
      <SubmitButton kind="plain">{t(`act.${act}`)}</SubmitButton>
    </KeptForm>
  )
}
