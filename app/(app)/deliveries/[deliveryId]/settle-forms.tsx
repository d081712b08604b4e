'use client'

import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import type { BatchHeld } from '@/lib/data/deliveries-differences'
import { SETTLEMENTS } from '@/lib/schemas/delivery'
import { holdBatchAction, settleDifferenceAction } from './actions'

/** How one difference ended with the supplier. */
export function SettleForm({ differenceId }: Readonly<{ differenceId: string }>) {
  const t = useTranslations('deliveries')
  return (
    <KeptForm
      id={`settle-${differenceId}`}
      action={settleDifferenceAction}
      refusedTitle={t('notSettled')}
      className="flex flex-col gap-2 desk:max-w-[420px]"
    >
      <input type="hidden" name="differenceId" value={differenceId} />
      <SelectField
        name="how"
        label={t('how')}
        options={SETTLEMENTS.map((value) => ({ value, label: t(`settled.${value}`) }))}
      />
      <TextField name="note" label={t('note')} maxLength={300} />
      <SubmitButton kind="plain">{t('settle')}</SubmitButton>
    </KeptForm>
  )
}

type BatchFormProps = Readonly<{ deliveryId: string; batches: readonly string[] }>

/** One batch is impure: all of it is held back at once. */
export function BatchForm({ deliveryId, batches }: BatchFormProps) {
  const t = useTranslations('deliveries')
  const [held, setHeld] = useState<BatchHeld | null>(null)
  return (
    <KeptForm
      id={`batch-${deliveryId}`}
      action={holdBatchAction}
      refusedTitle={t('notHeld')}
      onDone={setHeld}
      className="flex flex-col gap-2 desk:max-w-[420px]"
    >
      <input type="hidden" name="deliveryId" value={deliveryId} />
      <SelectField
        name="batch"
        label={t('batch')}
        options={batches.map((value) => ({ value, label: value }))}
      />
      <TextField name="reason" label={t('impureWhy')} maxLength={300} />
      <SubmitButton kind="plain">{t('holdBatch')}</SubmitButton>
      <p role="status" className={held && held.onOutfits.length > 0 ? 'trouble' : 'field-note'}>
        {held
          ? t('batchHeld', {
              count: held.held,
              hanging: held.onOutfits.length,
              serials: held.onOutfits.join(', '),
            })
          : null}
      </p>
    </KeptForm>
  )
}
