'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { saveRentTermsAction } from './actions'

type Option = Readonly<{ value: string; label: string }>
type TermsFormProps = Readonly<{
  siteId: string
  currency: string
  suppliers: readonly Option[]
  sizes: readonly Option[]
  today: string
}>

/** What a supplier asks for a size, from a day on. */
export function TermsForm({ siteId, currency, suppliers, sizes, today }: TermsFormProps) {
  const t = useTranslations('rent')
  return (
    <KeptForm
      id={`terms-${siteId}`}
      action={saveRentTermsAction}
      refusedTitle={t('refused')}
      className="flex flex-col gap-3 desk:max-w-[480px]"
    >
      <input type="hidden" name="siteId" value={siteId} />
      <SelectField name="supplierId" label={t('supplier')} options={suppliers} />
      <SelectField name="sizeId" label={t('size')} options={sizes} />
      <TextField name="freeDays" label={t('freeDays')} inputMode="numeric" maxLength={4} />
      <TextField
        name="rentPerDay"
        label={t('rentPerDay', { currency })}
        inputMode="decimal"
        maxLength={10}
      />
      <TextField
        name="demurrageFromDay"
        label={t('demurrageFrom')}
        note={t('demurrageNote')}
        inputMode="numeric"
        maxLength={4}
      />
      <TextField
        name="demurragePerDay"
        label={t('demurragePerDay', { currency })}
        inputMode="decimal"
        maxLength={10}
      />
      <TextField
        name="deposit"
        label={t('deposit', { currency })}
        inputMode="decimal"
        maxLength={10}
      />
      <TextField name="validFrom" type="date" label={t('validFrom')} defaultValue={today} />
      <SubmitButton kind="plain">{t('saveTerms')}</SubmitButton>
    </KeptForm>
  )
}
