'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, type SelectOption, TextField } from '@/app/_components/form/text-field'
import { decideFindingAction } from '../actions'

type DecideFormProps = Readonly<{
  findingId: string
  /** Empty where a cause has been accepted: it can only be withdrawn. */
  causes: readonly SelectOption[]
}>

/** What somebody makes of a finding: nothing is corrected but by this. */
export function DecideForm({ findingId, causes }: DecideFormProps) {
  const t = useTranslations('findings')
  const isAccepted = causes.length === 0
  return (
    <KeptForm
      id={`finding-${findingId}-${isAccepted}`}
      action={decideFindingAction}
      refusedTitle={t('refused')}
      className="grid gap-3 desk:max-w-[480px]"
    >
      <input type="hidden" name="findingId" value={findingId} />
      {isAccepted ? null : (
        <SelectField
          name="hypothesis"
          label={t('chooseCause')}
          emptyLabel={t('chooseNone')}
          options={causes}
        />
      )}
      <TextField name="note" label={t('note')} note={t('noteNote')} maxLength={300} rows={2} />
      {isAccepted ? (
        <SubmitButton name="decision" value="withdrawn" kind="plain">
          {t('withdraw')}
        </SubmitButton>
      ) : (
        <>
          <SubmitButton name="decision" value="accepted">
            {t('accept')}
          </SubmitButton>
          <div className="grid grid-cols-2 gap-3">
            <SubmitButton name="decision" value="looking" kind="plain">
              {t('look')}
            </SubmitButton>
            <SubmitButton name="decision" value="rejected" kind="plain">
              {t('reject')}
            </SubmitButton>
          </div>
        </>
      )}
    </KeptForm>
  )
}
