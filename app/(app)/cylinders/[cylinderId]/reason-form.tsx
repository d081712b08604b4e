'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { CONDITIONS } from '@/lib/schemas/cylinder-life'
import { quarantineAction, releaseAction, reportLostAction, scrapCylinderAction } from './actions'

const ACTIONS = {
  quarantine: quarantineAction,
  release: releaseAction,
  lost: reportLostAction,
  scrap: scrapCylinderAction,
} as const

type ReasonFormProps = Readonly<{ cylinderId: string; act: keyof typeof ACTIONS }>

/** Holding a cylinder back, letting it go again, losing or scrapping it, each with its reason. */
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
      {act === 'quarantine' ? <ConditionField /> : null}
      <TextField name="reason" label={t(`reasonFor.${act}`)} maxLength={300} />
      <SubmitButton kind="plain">{t(`act.${act}`)}</SubmitButton>
    </KeptForm>
  )
}

/** What is wrong with its wall or valve, if it is that: then only a test lets it go again. */
export function ConditionField() {
  const t = useTranslations('cylinders')
  return (
    <SelectField
      name="condition"
      label={t('conditionHead')}
      note={t('conditionNote')}
      emptyLabel={t('condition.sound')}
      options={CONDITIONS.map((value) => ({ value, label: t(`condition.${value}`) }))}
    />
  )
}
