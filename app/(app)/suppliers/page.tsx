import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { ListFiles } from '@/app/_components/list-files'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { SectionNav } from '@/app/_components/nav/section-nav'
import { PhoneHead } from '@/app/_components/phone-head'
import { SiteSwitch } from '@/app/_components/site-switch'
import { requireViewer } from '@/lib/auth/viewer'
import { readNow } from '@/lib/data/cylinders'
import { resolveSite } from '@/lib/data/sites'
import { listSuppliers } from '@/lib/data/suppliers'
import { localDay } from '@/lib/format/local-time'
import { SupplierForm } from './supplier-forms'
import { SupplierWords } from './supplier-words'

type SuppliersProps = Readonly<{ searchParams: Promise<{ site?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('suppliers'))('title') }
}

/** Who fills and delivers, what they ask, and what they agreed with this site. */
export default async function SuppliersScreen({ searchParams }: SuppliersProps) {
  const viewer = await requireViewer()
  const site = await found(resolveSite(viewer, (await searchParams).site))
  const page = await found(listSuppliers(viewer, site.id))
  const [t, c] = [await getTranslations('suppliers'), await getTranslations('cylinders')]
  const today = localDay(await readNow(), site.zone)
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: site.zone }
  const place = <SiteSwitch site={site} others={site.others} path="/suppliers" />
  const sizes = page.sizes.map((size) => ({
    value: size.id,
    label: `${c(`gas.${size.gasId}` as 'gas.oxygen')} ${size.name}`,
  }))
  const at = { siteId: site.id, siteName: site.name, currency: page.currency, today, sizes }
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead title={t('title')} where={place} backHref={`/cylinders?site=${site.id}`} />
      <DeskPageHead title={t('title')} sentence={place} />
      <SectionNav section="gas" viewer={viewer} siteId={site.id} />
      <div className="flex flex-col gap-8 px-4 py-3 desk:px-8">
        {page.suppliers.length === 0 ? <p className="text-ink-2">{t('none')}</p> : null}
        {page.suppliers.map((supplier) => (
          <SupplierWords key={supplier.id} supplier={supplier} at={at} mayWrite={page.mayWrite} />
        ))}
        {page.mayWrite ? (
          <section className="desk:max-w-[480px]">
            <h2 className="type-section mb-3 border-b-2 border-ink pb-1">{t('add')}</h2>
            <SupplierForm at={at} supplier={null} />
          </section>
        ) : null}
      </div>
      <ListFiles lists={['agreements']} query={{ site: site.id }} />
    </PrefsProvider>
  )
}
