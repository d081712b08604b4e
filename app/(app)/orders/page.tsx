import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { ListFiles } from '@/app/_components/list-files'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { PhoneHead } from '@/app/_components/phone-head'
import { SiteSwitch } from '@/app/_components/site-switch'
import { requireViewer } from '@/lib/auth/viewer'
import { getOrders, type OrderPage } from '@/lib/data/orders'
import { resolveSite } from '@/lib/data/sites'
import { formatDate, formatDay } from '@/lib/format/clock'
import type { FormatPrefs } from '@/lib/format/prefs'
import { atHourOfDay } from '@/lib/format/zone'
import { HowForecast } from '../plan/how-forecast'
import { endOfDay } from '../sites/gas-bar'
import { PhoneGas } from '../sites/phone-gas'
import { CancelForm } from './cancel-form'
import { GasFacts } from './gas-facts'
import { OrderForm, type SupplierOption } from './order-form'
import type { OrderBox } from './order-line'

type OrdersPageProps = Readonly<{ searchParams: Promise<{ site?: string }> }>

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
      <DeskPageHead
        title={t('title')}
        sentence={
          <>
            <span className="mr-4">{place}</span>
            <ShortFirst page={page} prefs={prefs} />
          </>
        }
      />
      <p className="border-b border-rule px-4 py-2 desk:hidden">
        <ShortFirst page={page} prefs={prefs} />
      </p>
      <div className="px-4 py-2 desk:px-8">
        <div className="desk:hidden">
          <PhoneGas gases={page.gases} now={page.now} prefs={prefs} />
        </div>
        <div className="hidden desk:block">
          <GasFacts gases={page.gases} now={page.now} prefs={prefs} />
        </div>
        <p className="mt-2 type-small text-ink-2">{t('rests')}</p>
        <HowForecast gases={page.gases} />
        <div className="mt-6 grid gap-10 wide:grid-cols-[minmax(0,8fr)_minmax(0,5fr)] wide:gap-12">
          <section>
            <h2 className="type-section mb-3 border-b-2 border-ink pb-1">{t('propose')}</h2>
            {page.mayConfirm ? (
              <OrderForm
                siteId={site.id}
                boxes={await boxesOf(page)}
                suppliers={page.suppliers.map(optionOf)}
                supplierId={page.supplierId ?? ''}
                nowMs={page.now.getTime()}
              />
            ) : (
              <p className="text-ink-2">{t('notYours')}</p>
            )}
          </section>
          <Orders page={page} />
        </div>
      </div>
      <ListFiles lists={['orders']} query={{ site: site.id }} />
    </PrefsProvider>
  )
}

const optionOf = (supplier: OrderPage['suppliers'][number]): SupplierOption => ({
  id: supplier.id,
  name: supplier.name,
  dueOn: supplier.dueOn,
  deliveryFeeMinor: supplier.deliveryFeeMinor,
  currency: supplier.prices[0]?.currency ?? 'USD',
  fillMinor: Object.fromEntries(supplier.prices.map((price) => [price.sizeId, price.fillMinor])),
})

const PERCENT = 100

async function boxesOf({ proposals }: OrderPage): Promise<OrderBox[]> {
  const t = await getTranslations('orders')
  const g = await getTranslations('permit.vessel.gas')
  return proposals.map(({ sizeId, sizeName, gasId, quantity, forecast }) => {
    const upTo = forecast?.forecast.orderUpTo
    const facts = {
      level: upTo?.level ?? 0,
      days: upTo?.overDays ?? 0,
      percent: Math.round((upTo?.service ?? 0) * PERCENT),
    }
    const reason = quantity > 0 ? 'whyOrder' : facts.level > 0 ? 'whyNot' : 'whyNothing'
    return {
      sizeId,
      gas: g(gasId as 'oxygen'),
      size: sizeName,
      proposed: quantity,
      why: forecast ? t(reason, facts) : t('notMain'),
      isTrouble: quantity > 0,
    }
  })
}

/** The gas that is short first, in a sentence. */
async function ShortFirst({ page, prefs }: Readonly<{ page: OrderPage; prefs: FormatPrefs }>) {
  const t = await getTranslations('orders')
  const g = await getTranslations('permit.vessel.gas')
  const dayOf = (gas: OrderPage['gases'][number]) => gas.forecast.daysUntilShort
  const first = page.gases
    .filter((gas) => dayOf(gas) !== null)
    .toSorted((a, b) => (dayOf(a) ?? 0) - (dayOf(b) ?? 0))[0]
  const day = first ? dayOf(first) : null
  if (!first || day === null) return t('nothingShort')
  const todayMs = atHourOfDay(page.now.getTime(), prefs.timeZone, 0)
  return t.rich('shortFirst', {
    gas: g(first.gasId as 'oxygen'),
    day: formatDay(new Date(endOfDay(todayMs, day - 0.5)), prefs),
    b: (words) => <b>{words}</b>,
  })
}

async function Orders({ page }: Readonly<{ page: OrderPage }>) {
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
                  day: (order.state === 'confirmed' ? formatDay : formatDate)(order.dueOn, {
                    timeZone: 'UTC',
                  }),
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
