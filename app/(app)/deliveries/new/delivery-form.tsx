'use client'

import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { ButtonLink } from '@/app/_components/controls/button'
import { KeptForm } from '@/app/_components/form/kept-form'
import { StorageConfirm } from '@/app/_components/form/storage-confirm'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import type { Received } from '@/lib/data/deliveries'
import { receiveDeliveryAction } from './actions'
import { DeliveryRows } from './delivery-rows'
import type { OrderLine, SizeOption } from './delivery-types'

type DeliveryFormProps = Readonly<{
  siteId: string
  orders: readonly { id: string; words: string; lines: readonly OrderLine[] }[]
  orderId: string
  sizes: readonly SizeOption[]
  suppliers: readonly { id: string; name: string }[]
  areas: readonly { id: string; name: string }[]
  /** Scanned before. */
  serials: readonly string[]
}>

/** What came off the truck, cylinder by cylinder, against an order or none. */
export function DeliveryForm({
  siteId,
  orders,
  orderId,
  sizes,
  suppliers,
  areas,
  serials,
}: DeliveryFormProps) {
  const t = useTranslations('deliveries')
  const [chosen, setChosen] = useState(orderId)
  const [received, setReceived] = useState<Received | null>(null)
  const order = orders.find((row) => row.id === chosen)
  const formId = `delivery-${siteId}`
  return (
    <>
      {received ? <ReceivedWords received={received} sizes={sizes} siteId={siteId} /> : null}
      <KeptForm
        id={formId}
        action={receiveDeliveryAction}
        refusedTitle={t('refused')}
        onDone={setReceived}
        className="flex flex-col gap-4"
      >
        <input type="hidden" name="siteId" value={siteId} />
        <div className="flex flex-col gap-4 desk:max-w-[560px]">
          <SelectField
            name="orderId"
            label={t('orderLabel')}
            emptyLabel={t('noOrder')}
            defaultValue={orderId}
            onChosen={setChosen}
            options={orders.map((row) => ({ value: row.id, label: row.words }))}
          />
          {order ? null : (
            <SelectField
              name="supplierId"
              label={t('supplier')}
              emptyLabel={t('chooseSupplier')}
              options={suppliers.map((row) => ({ value: row.id, label: row.name }))}
            />
          )}
        </div>
        <DeliveryRows
          formId={formId}
          sizes={sizes}
          ordered={order?.lines ?? null}
          serials={serials}
        />
        <div className="flex flex-col gap-4 desk:max-w-[560px]">
          {areas.length > 0 ? (
            <SelectField
              name="areaId"
              label={t('area')}
              emptyLabel={t('noArea')}
              options={areas.map((row) => ({ value: row.id, label: row.name }))}
            />
          ) : null}
          <TextField name="note" label={t('note')} maxLength={300} />
          <StorageConfirm />
          <SubmitButton>{t('receive')}</SubmitButton>
        </div>
      </KeptForm>
    </>
  )
}

type ReceivedWordsProps = Readonly<{
  received: Received
  sizes: readonly SizeOption[]
  siteId: string
}>

function ReceivedWords({ received, sizes, siteId }: ReceivedWordsProps) {
  const t = useTranslations('deliveries')
  const name = (sizeId: string) => sizes.find((size) => size.id === sizeId)?.words ?? sizeId
  return (
    <section role="status" className="mb-4 border-b-2 border-ink pb-4">
      <p className="flex items-center gap-2 type-row-title">
        <AnswerMark name="done" />
        {t('received', { count: received.received })}
      </p>
      {received.short.map((line) => (
        <p key={line.sizeId} className="trouble mt-1">
          <AnswerMark name="short" />
          {t('short', { size: name(line.sizeId), got: line.got, ordered: line.ordered })}
        </p>
      ))}
      {received.differences > 0 ? (
        <p className="trouble mt-1">
          <AnswerMark name="short" />
          {t('toSettle', { count: received.differences })}
        </p>
      ) : null}
      <p className="mt-3 flex flex-wrap gap-3">
        <ButtonLink href={`/deliveries/${received.deliveryId}`}>{t('toDelivery')}</ButtonLink>
        <ButtonLink href={`/cylinders?site=${siteId}`}>{t('toCylinders')}</ButtonLink>
      </p>
    </section>
  )
}
