import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { deliveryChoices } from '@/lib/data/deliveries'
import { resolveSite } from '@/lib/data/sites'
import { formatDay } from '@/lib/format/clock'
import { DeliveryForm } from './delivery-form'

type NewDeliveryPageProps = Readonly<{
  searchParams: Promise<{ site?: string; order?: string; serials?: string }>
}>

const MOST_SERIALS = 60

export async function generateMetadata(): Promise<Metadata> {
  const t = await getTranslations('deliveries')
  return { title: t('title') }
}

export default async function NewDeliveryPage({ searchParams }: NewDeliveryPageProps) {
  const viewer = await requireViewer()
  const { site: wanted, order, serials } = await searchParams
  const t = await getTranslations('deliveries')
  const site = await found(resolveSite(viewer, wanted))
  const choices = await found(deliveryChoices(viewer, site.id))
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: site.zone }
  const orders = choices.orders.map(({ id, number, supplierName, dueOn, lines }) => ({
    id,
    words: t('order', {
      number,
      supplier: supplierName,
      due: formatDay(dueOn, { timeZone: 'UTC' }),
    }),
    lines,
  }))
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead title={t('title')} where={site.name} backHref={`/cylinders?site=${site.id}`} />
      <DeskPageHead title={t('title')} sentence={site.name} />
      <div className="px-4 py-2 desk:px-8">
        <DeliveryForm
          siteId={site.id}
          orders={orders}
          orderId={orders.some((row) => row.id === order) ? (order ?? '') : ''}
          sizes={choices.sizes.map((size) => ({
            id: size.id,
            words: `${t(`gas.${size.gasId}` as 'gas.oxygen')} ${size.name}`,
          }))}
          suppliers={choices.suppliers}
          areas={choices.areas}
          serials={serials ? serials.split(',').slice(0, MOST_SERIALS) : []}
        />
      </div>
    </PrefsProvider>
  )
}
