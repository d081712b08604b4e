'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { PinField, SelectField, type SelectOption } from '@/app/_components/form/text-field'
import { handOverAction } from '../actions'
import { PermitFields } from '../permit-fields'

type HandOverFormProps = Readonly<{
  permitId: string
  version: number
  contentHash: string
  role: 'operator' | 'fire_watch'
  people: readonly SelectOption[]
}>

/** Who takes over signs with their own PIN; who was on goes off in the same act. */
export function HandOverForm({ permitId, version, contentHash, role, people }: HandOverFormProps) {
  const t = useTranslations('permit.handOver')
  return (
    <KeptForm
      id={`hand-over-${permitId}-${role}`}
      action={handOverAction}
      refusedTitle={t('refused')}
      className="grid gap-3"
    >
      <PermitFields permitId={permitId} version={version} contentHash={contentHash} />
      <input type="hidden" name="role" value={role} />
      <SelectField
        name="personId"
        label={t(`who.${role}`)}
        emptyLabel={t('choose')}
        options={people}
      />
      <PinField label={t('pin')} note={t(`agrees.${role}`)} />
      <SubmitButton kind="plain">{t(`send.${role}`)}</SubmitButton>
    </KeptForm>
  )
}
