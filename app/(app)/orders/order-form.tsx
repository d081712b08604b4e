'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { confirmOrderAction } from './actions'

export type OrderBox = Readonly<{ sizeId: string; label: string; proposed: number; why: string }>

type OrderFormProps = Readonly<{
  siteId: string
  boxes: readonly OrderBox[]
  suppliers: readonly Readonly<{ id: string; name: string }>[]
  dueOn: string
}>

/** What is proposed, changed where the manager knows better, and confirmed in one press. */
export function OrderForm({ siteId, boxes, suppliers, dueOn }: OrderFormProps) {
  const t = useTranslations('orders')
  const router = useRouter()
  const [number, setNumber] = useState<string | null>(null)
  return (
    <KeptForm
      id={`order-${siteId}`}
      action={confirmOrderAction}
      refusedTitle={t('refused')}
      onDone={(order) => {
        setNumber(order.number)
        router.refresh()
      }}
      className="grid gap-4 [&>.refusal]:-mx-4"
    >
      <input type="hidden" name="siteId" value={siteId} />
      {boxes.map((box) => (
        <div key={box.sizeId}>
          <input type="hidden" name="sizeId" value={box.sizeId} />
          <TextField
            name="quantity"
            label={box.label}
            note={box.why}
            inputMode="numeric"
            defaultValue={box.proposed > 0 ? String(box.proposed) : ''}
            maxLength={3}
          />
        </div>
      ))}
      <SelectField
        name="supplierId"
        label={t('supplier')}
        defaultValue={suppliers[0]?.id ?? ''}
        options={suppliers.map(({ id, name }) => ({ value: id, label: name }))}
      />
      <TextField
        name="dueOn"
        type="date"
        label={t('dueOn')}
        note={t('dueNote')}
        defaultValue={dueOn}
      />
      <SubmitButton>{t('confirm')}</SubmitButton>
      <p className="type-note" role="status">
        {number ? t('confirmed', { number }) : null}
      </p>
    </KeptForm>
  )
}
