'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { TextField } from '@/app/_components/form/text-field'
import type { PlanPage } from '@/lib/data/plan/plan'
import { formatDay } from '@/lib/format/clock'
import { delayOrderAction } from './actions'
import { dayOf } from './day-of'

type Order = PlanPage['orders'][number]

/** Orders that have not come, with the day on which each is due and what its supplier said of that day. */
export function OpenOrders({ orders }: Readonly<{ orders: readonly Order[] }>) {
  const t = useTranslations('plan.open')
  if (orders.length === 0) return <p className="py-2 text-ink-2">{t('none')}</p>
  return (
    <ul aria-label={t('title')}>
      {orders.map((order) => (
        <OpenOrder key={order.id} order={order} />
      ))}
    </ul>
  )
}

const dayWords = (day: string) => formatDay(dayOf(day, 0), { timeZone: 'UTC' })

function OpenOrder({ order }: Readonly<{ order: Order }>) {
  const t = useTranslations('plan.open')
  const p = useTranslations('plan')
  const g = useTranslations('permit.vessel.gas')
  const { number, supplierName, siteName, dueOn, delay } = order
  const lines = order.lines
    .map(({ quantity, gasId, sizeName }) =>
      p('line', { quantity, gas: g(gasId as 'oxygen'), size: sizeName }),
    )
    .join(', ')
  return (
    <li className="border-b border-rule py-2">
      <p>
        <b className="font-[650]">{t('order', { supplier: supplierName, site: siteName })}</b>{' '}
        <span className="type-ident">{number}</span>
        <span className="block text-ink-2">
          {dayWords(dueOn)}
          {': '}
          {lines}
        </span>
        {delay ? (
          <span className="block text-heat" data-late={number}>
            {t('wasDue', {
              day: dayWords(delay.wasOn),
              days: delay.days,
              reason: delay.reason,
              person: delay.personName,
            })}
          </span>
        ) : null}
      </p>
      {order.mayDelay ? <Late order={order} /> : null}
    </li>
  )
}

function Late({ order }: Readonly<{ order: Order }>) {
  const t = useTranslations('plan.open')
  const router = useRouter()
  return (
    <details className="fold">
      <summary>{t('late', { number: order.number })}</summary>
      <KeptForm
        id={`late-${order.id}`}
        action={delayOrderAction}
        refusedTitle={t('refused')}
        onDone={() => router.refresh()}
        className="grid items-end gap-4 py-2 desk:grid-cols-[160px_minmax(0,1fr)_auto]"
      >
        <input type="hidden" name="orderId" value={order.id} />
        <TextField name="days" label={t('days')} inputMode="numeric" maxLength={2} isRequired />
        <TextField name="reason" label={t('reason')} maxLength={200} isRequired />
        <SubmitButton kind="plain" isWide={false}>
          {t('record')}
        </SubmitButton>
      </KeptForm>
    </details>
  )
}
