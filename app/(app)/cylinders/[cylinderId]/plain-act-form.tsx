'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { markEmptyAction, returnAction, sendForTestAction } from './actions'

const ACTIONS = {
  empty: markEmptyAction,
  return: returnAction,
  sendForTest: sendForTestAction,
} as const

type PlainActFormProps = Readonly<{ cylinderId: string; act: keyof typeof ACTIONS }>

/** One press: it is empty, it goes back to the supplier, or away to be tested. */
export function PlainActForm({ cylinderId, act }: PlainActFormProps) {
  const t = useTranslations('cylinders')
  return (
    <KeptForm id={`${act}-${cylinderId}`} action={ACTIONS[act]} refusedTitle={t('actRefused')}>
      <input type="hidden" name="cylinderId" value={cylinderId} />
      <SubmitButton kind="plain">{t(`act.${act}`)}</SubmitButton>
    </KeptForm>
  )
}
