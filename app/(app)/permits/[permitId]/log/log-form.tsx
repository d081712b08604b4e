'use client'

import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { FieldWithUnit } from '@/app/_components/form/field-with-unit'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, type SelectOption, TextField } from '@/app/_components/form/text-field'
import { PermitFields } from '../permit-fields'
import { logWorkAction } from './actions'

type LogFormProps = Readonly<{
  permitId: string
  day: string
  from: string
  to: string
  cuts: readonly SelectOption[]
  firstCut: string
  operators: readonly SelectOption[]
  outsideHref: string
}>

const PIECES = [{ unit: 'count', label: '' }] as const

/** What was cut, from when to when. Work outside the open time is refused here, and kept there. */
export function LogForm({
  permitId,
  day,
  from,
  to,
  cuts,
  firstCut,
  operators,
  outsideHref,
}: LogFormProps) {
  const t = useTranslations('permit.log')
  const pieces = [{ ...PIECES[0], label: t('piecesUnit') }] as const
  return (
    <KeptForm
      id={`log-${permitId}`}
      action={logWorkAction}
      refusedTitle={t('refused')}
      className="grid gap-3 px-4 py-3 desk:max-w-[480px] desk:px-0 [&>.refusal]:-mx-4"
    >
      <PermitFields permitId={permitId} />
      <SelectField
        name="cutId"
        label={t('cut')}
        emptyLabel={t('noCut')}
        defaultValue={firstCut}
        options={cuts}
      />
      <FieldWithUnit name="pieces" label={t('pieces')} units={pieces} />
      <div className="grid grid-cols-2 gap-3">
        <TextField name="from" type="time" label={t('from')} defaultValue={from} />
        <TextField name="to" type="time" label={t('to')} defaultValue={to} />
      </div>
      <p className="type-note text-ink-2">{t('lateNote')}</p>
      <TextField name="day" type="date" label={t('day')} defaultValue={day} />
      <SelectField name="operatorId" label={t('operator')} options={operators} />
      <TextField name="note" label={t('note')} maxLength={300} />
      <SubmitButton>{t('keep')}</SubmitButton>
      <p className="type-note">
        {t('outsideAsk')}{' '}
        <Link className="text-link" href={outsideHref}>
          {t('outside')}
        </Link>
      </p>
    </KeptForm>
  )
}
