'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import type { OutsideForm as FormData } from '@/lib/data/outside'
import { recordWorkOutsideAction } from './actions'

type OutsideProps = Readonly<{ form: FormData; permitId: string | null; from: string | null }>

/** The fact is kept, whatever permit there was or was not. */
export function OutsideForm({ form, permitId, from }: OutsideProps) {
  const t = useTranslations('outside')
  const permit = form.permits.find((one) => one.id === permitId)
  return (
    <KeptForm
      id={`outside-${form.siteId}-${permitId ?? 'none'}`}
      action={recordWorkOutsideAction}
      refusedTitle={t('refused')}
      className="grid gap-4 px-4 py-3 desk:max-w-[560px] desk:px-8"
    >
      <SelectField
        name="areaId"
        label={t('area')}
        emptyLabel={t('choose')}
        options={form.areas.map(({ id, name }) => ({ value: id, label: name }))}
        {...(permit ? { defaultValue: permit.areaId } : {})}
      />
      <SelectField
        name="permitId"
        label={t('permit')}
        note={t('permitNote')}
        emptyLabel={t('noPermit')}
        options={form.permits.map((one) => ({
          value: one.id,
          label: `${one.number}, ${one.areaName}`,
        }))}
        defaultValue={permit?.id ?? ''}
      />
      <SelectField
        name="operatorId"
        label={t('operator')}
        emptyLabel={t('choose')}
        options={form.operators.map(({ id, name }) => ({ value: id, label: name }))}
        {...(permit ? { defaultValue: permit.operatorId } : {})}
      />
      <TextField name="day" type="date" label={t('day')} defaultValue={form.day} />
      <div className="grid grid-cols-2 gap-3">
        <TextField
          name="from"
          type="time"
          label={t('from')}
          {...(from ? { defaultValue: from } : {})}
        />
        <TextField name="to" type="time" label={t('to')} note={t('toNote')} />
      </div>
      <TextField name="what" label={t('what')} maxLength={200} />
      <TextField name="why" label={t('why')} rows={2} maxLength={300} />
      <SubmitButton>{t('send')}</SubmitButton>
    </KeptForm>
  )
}
