import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { PhoneHead } from '@/app/_components/phone-head'
import { SiteSwitch } from '@/app/_components/site-switch'
import { requireViewer } from '@/lib/auth/viewer'
import { getOrders, type OrderPage } from '@/lib/data/orders'
import { resolveSite } from '@/lib/data/sites'
import { formatDay } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { CancelForm } from './cancel-form'
import { GasFacts } from './gas-facts'
import { type OrderBox, OrderForm } from './order-form'

type OrdersPageProps = Readonly<{ searchParams: Promise<{ site?: string }> }>

const MINOR = 100

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('orders'))('title') }
}

export default async function OrdersPage({ searchParams }: OrdersPageProps) {
  const viewer = await requireViewer()
  const t = await getTranslations('orders')
  const site = await found(resolveSite(viewer, (await searchParams).site))
  const page = await found(getOrders(viewer, site.id))
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: site.zone }
  const place = <SiteSwitch site={site} others={site.others} path="/orders" />
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead title={t('title')} where={place} backHref="/sites" />
      <DeskPageHead title={t('title')} sentence={place} />
      <div className="px-4 py-2 desk:px-8">
        <div className="overflow-x-auto">
          <GasFacts gases={page.gases} now={page.now} prefs={prefs} />
        </div>
        <p className="mt-2 type-small text-ink-2">{t('rests')}</p>
        <div className="mt-6 grid gap-10 desk:grid-cols-2 desk:gap-12">
          <section>
            <h2 className="type-section mb-3 border-b-2 border-ink pb-1">{t('propose')}</h2>
            {page.mayConfirm ? (
              <OrderForm
                siteId={site.id}
                boxes={await boxesOf(page)}
                suppliers={page.suppliers}
                dueOn={page.dueOn}
              />
            ) : (
              <p className="text-ink-2">{t('notYours')}</p>
            )}
          </section>
          <Orders page={page} prefs={prefs} />
        </div>
      </div>
    </PrefsProvider>
  )
}

async function boxesOf({ proposals, suppliers }: OrderPage): Promise<OrderBox[]> {
  const t = await getTranslations('orders')
  const g = await getTranslations('permit.vessel.gas')
  return proposals.map(({ sizeId, sizeName, gasId, quantity, forecast }) => {
    const price = suppliers.flatMap((one) => one.prices).find((one) => one.sizeId === sizeId)
    const each = price
      ? t('each', {
          price: new Intl.NumberFormat('en-US', {
            style: 'currency',
            currency: price.currency,
          }).format(price.fillMinor / MINOR),
        })
      : ''
    const why = forecast
      ? t(quantity > 0 ? 'whyOrder' : 'whyNot', {
          level: forecast.forecast.orderUpTo.level,
          days: forecast.forecast.orderUpTo.overDays,
          percent: Math.round(forecast.forecast.orderUpTo.service * MINOR),
        })
      : t('notMain')
    return {
      sizeId,
      label: t('box', { gas: g(gasId as 'oxygen'), size: sizeName }),
      proposed: quantity,
      why: `${why} ${each}`.trim(),
    }
  })
}

async function Orders({ page, prefs }: Readonly<{ page: OrderPage; prefs: FormatPrefs }>) {
  const t = await getTranslations('orders')
  return (
    <section>
      <h2 className="type-section mb-1 border-b-2 border-ink pb-1">{t('ordered')}</h2>
      {page.orders.length === 0 ? <p className="py-3 text-ink-2">{t('none')}</p> : null}
      <ul>
        {page.orders.map((order) => (
          <li
            key={order.id}
            className="flex flex-wrap items-center justify-between gap-3 border-b border-rule py-2"
          >
            <div>
              <p>
                <span className="type-ident">{order.number}</span>{' '}
                <b className="font-[650]">
                  {order.lines
                    .map((line) => t('line', { quantity: line.quantity, size: line.sizeName }))
                    .join(', ')}
                </b>
              </p>
              <p className="type-small text-ink-2">
                {t(`state.${order.state as 'confirmed'}`, {
                  supplier: order.supplierName,
                  day: formatDay(order.dueOn, { ...prefs, timeZone: 'UTC' }),
                })}
              </p>
            </div>
            {page.mayConfirm && order.state === 'confirmed' ? (
              <CancelForm orderId={order.id} version={order.version} />
            ) : null}
          </li>
        ))}
      </ul>
    </section>
  )
}
