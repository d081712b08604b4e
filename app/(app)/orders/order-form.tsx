'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { Column, DataTable } from '@/app/_components/data-table'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { orderCostMinor } from '@/lib/calc/order-cost'
import { confirmOrderAction } from './actions'
import { type OrderBox, OrderLine } from './order-line'
import { type Confirmed, Outlook } from './outlook'
import { priceWords } from './price-words'

export type SupplierOption = Readonly<{
  id: string
  name: string
  dueOn: string
  deliveryFeeMinor: number
  currency: string
  fillMinor: Readonly<Record<string, number>>
}>

type OrderFormProps = Readonly<{
  siteId: string
  boxes: readonly OrderBox[]
  suppliers: readonly SupplierOption[]
  supplierId: string
  nowMs: number
}>

/** What is proposed, changed where the manager knows better, and confirmed in one press. */
export function OrderForm({ siteId, boxes, suppliers, supplierId, nowMs }: OrderFormProps) {
  const t = useTranslations('orders')
  const router = useRouter()
  const [confirmed, setConfirmed] = useState<Confirmed | null>(null)
  const [chosenId, setChosenId] = useState(supplierId)
  const [typed, setTyped] = useState<Readonly<Record<string, number>>>({})
  const supplier = suppliers.find((one) => one.id === chosenId) ?? suppliers[0]
  if (!supplier) return <p className="text-ink-2">{t('noSupplier')}</p>
  const costMinor = orderCostMinor({
    deliveryFeeMinor: supplier.deliveryFeeMinor,
    lines: boxes.map(({ sizeId, proposed }) => ({
      quantity: typed[sizeId] ?? proposed,
      fillMinor: supplier.fillMinor[sizeId] ?? null,
    })),
  })
  return (
    <KeptForm
      id={`order-${siteId}`}
      action={confirmOrderAction}
      refusedTitle={t('refused')}
      onDone={(order) => {
        setConfirmed(order)
        setTyped({})
        router.refresh()
      }}
      className="grid gap-4 [&>.refusal]:-mx-4"
    >
      <input type="hidden" name="siteId" value={siteId} />
      <DataTable
        caption={t('orderCaption')}
        head={
          <>
            <Column>{t('what')}</Column>
            <Column isFigure>{t('quantity')}</Column>
            <Column isFigure>{t('eachColumn')}</Column>
            <th scope="col" className="hidden desk:table-cell">
              {t('why')}
            </th>
          </>
        }
      >
        <tbody>
          {boxes.map((box) => (
            <OrderLine
              key={`${box.sizeId}-${box.proposed}`}
              box={box}
              price={priceWords(supplier.fillMinor[box.sizeId] ?? null, supplier.currency)}
              onTyped={(count) => setTyped((was) => ({ ...was, [box.sizeId]: count }))}
            />
          ))}
        </tbody>
      </DataTable>
      <div className="grid items-start gap-4 desk:grid-cols-2">
        <SelectField
          name="supplierId"
          label={t('supplier')}
          defaultValue={supplierId}
          onChosen={setChosenId}
          options={suppliers.map(({ id, name }) => ({ value: id, label: name }))}
        />
        <TextField
          key={supplier.id}
          name="dueOn"
          type="date"
          label={t('dueOn')}
          note={t('dueNote')}
          defaultValue={supplier.dueOn}
        />
      </div>
      <p>
        <b className="font-[650]">
          {costMinor === null
            ? t('costUnknown')
            : t(costMinor === 0 ? 'costNothing' : 'cost', {
                cost: priceWords(costMinor, supplier.currency) ?? '',
              })}
        </b>{' '}
        <span className="text-ink-2">
          {t('costOf', { fee: priceWords(supplier.deliveryFeeMinor, supplier.currency) ?? '' })}
        </span>
      </p>
      <SubmitButton>{t('confirm')}</SubmitButton>
      <div role="status">{confirmed ? <Outlook order={confirmed} nowMs={nowMs} /> : null}</div>
    </KeptForm>
  )
}
