'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { PinField, SelectField, TextField } from '@/app/_components/form/text-field'
import { ThreeWayAnswer } from '@/app/_components/form/three-way-answer'
import type { SignView } from '@/lib/data/permits/sign-view'
import { PermitFields } from '../permit-fields'
import { issuePermitAction } from './actions'

/** The PAI signs last: until when, when they came, and their PIN. */
export function IssueForm({ view }: Readonly<{ view: SignView }>) {
  const t = useTranslations('permit.sign')
  const { head, pais, until } = view
  return (
    <KeptForm
      id={`issue-${head.id}`}
      action={issuePermitAction}
      refusedTitle={t('notIssued')}
      className="grid gap-3"
    >
      <PermitFields permitId={head.id} version={head.version} contentHash={head.contentHash} />
      <p>{t('words.issue')}</p>
      <SelectField
        name="personId"
        label={t('pai')}
        emptyLabel={t('choosePai')}
        options={pais.map((pai) => ({ value: pai.id, label: pai.name }))}
      />
      <div className="grid grid-cols-2 gap-3">
        <TextField
          name="validUntil"
          type="time"
          label={t('validUntil')}
          defaultValue={until.clock}
          note={t('cap', { hours: view.capHours })}
        />
        <TextField name="validUntilDay" type="date" label={t('onDay')} defaultValue={until.day} />
      </div>
      <TextField
        name="arrivedAt"
        type="time"
        label={t('arrivedAt')}
        note={t('within', { minutes: view.paiWithinMin })}
      />
      {view.watchNeed === 'judgement' ? (
        <ThreeWayAnswer
          name="watchJudgement"
          label={t('judgement')}
          options={[
            { value: 'yes', label: t('judgementYes') },
            { value: 'no', label: t('judgementNo') },
          ]}
        />
      ) : null}
      <PinField label={t('pinPai')} />
      <SubmitButton>{t('press.issue')}</SubmitButton>
    </KeptForm>
  )
}
