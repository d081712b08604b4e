'use client'

import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { DisputeTable } from '@/app/_components/dispute-table'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { TextField } from '@/app/_components/form/text-field'
import type { CheckedInvoice } from '@/lib/data/invoices'
import { checkInvoiceAction } from './actions'

/** The supplier's invoice of this delivery, pasted, beside what came and what was agreed. */
export function InvoiceForm({ deliveryId }: Readonly<{ deliveryId: string }>) {
  const t = useTranslations('deliveries.invoice')
  const [checked, setChecked] = useState<CheckedInvoice | null>(null)
  return (
    <>
      <KeptForm
        id={`invoice-${deliveryId}`}
        action={checkInvoiceAction}
        refusedTitle={t('notChecked')}
        onDone={setChecked}
        className="flex flex-col gap-2 desk:max-w-[420px]"
      >
        <input type="hidden" name="deliveryId" value={deliveryId} />
        <TextField name="invoice" label={t('rows')} note={t('note')} rows={8} isIdentity />
        <SubmitButton kind="plain">{t('check')}</SubmitButton>
      </KeptForm>
      {checked ? <Checked checked={checked} /> : null}
    </>
  )
}

function Checked({ checked }: Readonly<{ checked: CheckedInvoice }>) {
  const t = useTranslations('deliveries.invoice')
  const c = useTranslations('cylinders')
  const rows = checked.rows.map(({ faults, ...row }) => ({
    ...row,
    why: faults
      .map((fault) => t(`fault.${fault}`, { asked: row.askedQuantity, ours: row.oursQuantity }))
      .join(' '),
  }))
  const unasked = checked.unasked.map(({ count, gasId, sizeName }) =>
    t('unaskedOne', { count, what: `${c(`gas.${gasId}` as 'gas.oxygen')} ${sizeName}` }),
  )
  return (
    <section className="pt-4" aria-label={t('result')}>
      <DisputeTable
        caption={t('result')}
        whatHead={t('item')}
        currency={checked.currency}
        rows={rows}
        sums={checked}
      />
      {unasked.length > 0 ? (
        <p className="pt-2 type-note text-ink-2">{t('unasked', { what: unasked.join(', ') })}</p>
      ) : null}
    </section>
  )
}
