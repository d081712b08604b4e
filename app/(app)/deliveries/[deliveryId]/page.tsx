import type { Metadata } from 'next'
import Link from 'next/link'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { getDelivery } from '@/lib/data/deliveries-differences'
import { formatDayClock } from '@/lib/format/clock'
import type { CylinderStatus } from '@/lib/schemas/cylinder'
import { InvoiceForm } from './invoice-form'
import { BatchForm, SettleForm } from './settle-forms'

type DeliveryPageProps = Readonly<{ params: Promise<{ deliveryId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('deliveries'))('one') }
}

/** What came, and row by row what did not come as ordered and how it ended. */
export default async function DeliveryPage({ params }: DeliveryPageProps) {
  const viewer = await requireViewer()
  const delivery = await found(getDelivery(viewer, (await params).deliveryId))
  const t = await getTranslations('deliveries')
  const c = await getTranslations('cylinders')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: delivery.zone }
  const title = delivery.orderNumber
    ? t('ofOrder', { number: delivery.orderNumber })
    : t('withoutOrder')
  const where = `${delivery.supplierName}, ${delivery.siteName}, ${formatDayClock(delivery.receivedAt, prefs)}`
  const gas = (gasId: string | null) => (gasId ? c(`gas.${gasId}` as 'gas.oxygen') : '')
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead title={title} where={where} backHref={`/deliveries?site=${delivery.siteId}`} />
      <DeskPageHead title={title} sentence={where} />
      <div className="flex flex-col gap-6 px-4 py-3 desk:grid desk:grid-cols-2 desk:gap-12 desk:px-8">
        <section>
          <h2 className="type-section pb-1">{t('differences')}</h2>
          {delivery.differences.length === 0 ? (
            <p className="flex items-center gap-2 type-note">
              <AnswerMark name="done" />
              {t('noDifferences')}
            </p>
          ) : (
            <ul className="border-t-2 border-ink">
              {delivery.differences.map((row) => (
                <li key={row.id} className="flex flex-col gap-2 border-b border-rule py-3">
                  <p className={row.settled ? 'type-row-title' : 'trouble'}>
                    <AnswerMark name={row.settled ? 'done' : 'short'} sizePx={14} />
                    {t(`difference.${row.kind}` as 'difference.short', {
                      count: row.quantity,
                      serial: row.serial ?? '',
                      batch: row.batch ?? '',
                      what: `${gas(row.gasId)} ${row.sizeName ?? ''}`,
                    })}
                  </p>
                  {row.note ? <p className="type-note text-ink-2">{row.note}</p> : null}
                  {row.settled ? (
                    <p className="type-note text-ink-2">
                      {[
                        t(`settled.${row.settled.how}` as 'settled.kept'),
                        formatDayClock(row.settled.at, prefs),
                        row.settled.note,
                      ]
                        .filter(Boolean)
                        .join('. ')}
                    </p>
                  ) : delivery.maySettle ? (
                    <SettleForm differenceId={row.id} />
                  ) : null}
                </li>
              ))}
            </ul>
          )}
        </section>
        <section>
          <h2 className="type-section pb-1">{t('came', { count: delivery.cylinders.length })}</h2>
          <ul className="border-t-2 border-ink">
            {delivery.cylinders.map((row) => (
              <li key={row.id} className="flex justify-between gap-3 border-b border-rule py-2">
                <Link
                  href={`/cylinders/${row.id}`}
                  className="type-ident inline-block min-h-6 text-ink underline decoration-cobalt underline-offset-4"
                >
                  {row.serial}
                </Link>
                <span className="text-right type-note text-ink-2">
                  {[
                    `${gas(row.gasId)} ${row.sizeName}`,
                    c(`status.${row.status as CylinderStatus}`),
                    row.batch ? t('ofBatch', { batch: row.batch }) : null,
                  ]
                    .filter(Boolean)
                    .join('. ')}
                </span>
              </li>
            ))}
          </ul>
          {delivery.maySettle && delivery.batches.length > 0 ? (
            <div className="pt-4">
              <h2 className="type-section pb-1">{t('impureTitle')}</h2>
              <BatchForm deliveryId={delivery.id} batches={delivery.batches} />
            </div>
          ) : null}
          {delivery.mayCheckInvoice ? (
            <div className="pt-6">
              <h2 className="type-section pb-1">{t('invoice.title')}</h2>
              <InvoiceForm deliveryId={delivery.id} />
            </div>
          ) : null}
        </section>
      </div>
    </PrefsProvider>
  )
}
