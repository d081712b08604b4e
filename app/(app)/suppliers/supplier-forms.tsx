'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import type { SupplierRow } from '@/lib/data/suppliers'
import { saveAgreementAction, savePriceAction, saveSupplierAction } from './actions'

export type SupplierAt = Readonly<{
  siteId: string
  siteName: string
  currency: string
  today: string
  sizes: readonly Readonly<{ value: string; label: string }>[]
}>

const WEEKDAYS = ['1', '2', '3', '4', '5', '6', '7'] as const
const BREAK_ROWS = [0, 1, 2] as const
const MINOR = 100
const typed = (minor: number) => (minor / MINOR).toFixed(2)

function useShared() {
  const t = useTranslations('suppliers')
  const router = useRouter()
  const shared = {
    refusedTitle: t('refused'),
    onDone: () => router.refresh(),
    className: 'grid gap-3',
  }
  return { t, shared }
}

export function SupplierForm({
  at,
  supplier,
}: Readonly<{ at: SupplierAt; supplier: SupplierRow | null }>) {
  const { t, shared } = useShared()
  return (
    <KeptForm id={`supplier-${supplier?.id ?? 'new'}`} action={saveSupplierAction} {...shared}>
      <input type="hidden" name="siteId" value={at.siteId} />
      <input type="hidden" name="supplierId" value={supplier?.id ?? ''} />
      <TextField name="name" label={t('name')} defaultValue={supplier?.name ?? ''} maxLength={80} />
      <TextField
        name="orderEmail"
        type="email"
        label={t('email')}
        defaultValue={supplier?.orderEmail ?? ''}
        maxLength={200}
      />
      <TextField
        name="leadDays"
        label={t('lead')}
        defaultValue={supplier ? String(supplier.leadDays) : ''}
        inputMode="numeric"
        maxLength={2}
      />
      <TextField
        name="deliveryFee"
        label={t('fee', { currency: at.currency })}
        defaultValue={supplier ? typed(supplier.deliveryFeeMinor) : ''}
        inputMode="decimal"
        maxLength={10}
      />
      <SubmitButton kind="plain">
        {supplier ? t('save', { name: supplier.name }) : t('addIt')}
      </SubmitButton>
    </KeptForm>
  )
}

type OfSupplier = Readonly<{ at: SupplierAt; supplier: SupplierRow }>

export function AgreementForm({ at, supplier }: OfSupplier) {
  const { t, shared } = useShared()
  const p = useTranslations('places')
  return (
    <KeptForm id={`agreement-${supplier.id}`} action={saveAgreementAction} {...shared}>
      <input type="hidden" name="siteId" value={at.siteId} />
      <input type="hidden" name="supplierId" value={supplier.id} />
      <TextField name="leadDays" label={t('lead')} inputMode="numeric" maxLength={2} />
      <fieldset>
        <legend className="field-label">{t('truckDays')}</legend>
        <div className="flex flex-wrap gap-x-5">
          {WEEKDAYS.map((day) => (
            <label key={day} className="flex min-h-12 items-center gap-2 desk:min-h-8">
              <input
                type="checkbox"
                name="deliveryDays"
                value={day}
                className="size-6 accent-[var(--act)] desk:size-[18px]"
              />
              {p(`weekdays.${day}`)}
            </label>
          ))}
        </div>
      </fieldset>
      <TextField name="least" label={t('least')} inputMode="numeric" maxLength={4} />
      <TextField
        name="most"
        label={t('most')}
        note={t('mostNote')}
        inputMode="numeric"
        maxLength={4}
      />
      <TextField
        name="deliveryFee"
        label={t('fee', { currency: at.currency })}
        inputMode="decimal"
        maxLength={10}
      />
      <fieldset className="grid gap-2">
        <legend className="field-label">{t('breaks')}</legend>
        {BREAK_ROWS.map((row) => (
          <div key={row} className="grid grid-cols-2 gap-3">
            <TextField name="breakFrom" label={t('breakFrom')} inputMode="numeric" maxLength={4} />
            <TextField
              name="breakOff"
              label={t('breakOff', { currency: at.currency })}
              inputMode="decimal"
              maxLength={10}
            />
          </div>
        ))}
      </fieldset>
      <TextField name="validFrom" type="date" label={t('from')} defaultValue={at.today} />
      <SubmitButton kind="plain">{t('keepAgreement')}</SubmitButton>
    </KeptForm>
  )
}

export function PriceForm({ at, supplier }: OfSupplier) {
  const { t, shared } = useShared()
  return (
    <KeptForm id={`price-${supplier.id}`} action={savePriceAction} {...shared}>
      <input type="hidden" name="siteId" value={at.siteId} />
      <input type="hidden" name="supplierId" value={supplier.id} />
      <SelectField name="sizeId" label={t('size')} options={at.sizes} />
      <TextField
        name="fill"
        label={t('fill', { currency: at.currency })}
        inputMode="decimal"
        maxLength={10}
      />
      <TextField
        name="rentPerDay"
        label={t('listRent', { currency: at.currency })}
        note={t('listRentNote')}
        inputMode="decimal"
        maxLength={10}
      />
      <TextField name="validFrom" type="date" label={t('from')} defaultValue={at.today} />
      <SubmitButton kind="plain">{t('keepPrice')}</SubmitButton>
    </KeptForm>
  )
}
