import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { ListFiles } from '@/app/_components/list-files'
import { SectionNav } from '@/app/_components/nav/section-nav'
import { PhoneHead } from '@/app/_components/phone-head'
import { PlainRow } from '@/app/_components/row'
import { SiteSwitch } from '@/app/_components/site-switch'
import { requireViewer } from '@/lib/auth/viewer'
import { listTrips } from '@/lib/data/gear/trips'
import { resolveSite } from '@/lib/data/sites'
import { formatWhen } from '@/lib/format/clock'
import { StartForm, VehicleForm, VehicleList } from './trip-forms'

type TripsProps = Readonly<{ searchParams: Promise<{ site?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('trips'))('title') }
}

export default async function TripsScreen({ searchParams }: TripsProps) {
  const viewer = await requireViewer()
  const site = await found(resolveSite(viewer, (await searchParams).site))
  const page = await found(listTrips(viewer, site.id))
  const t = await getTranslations('trips')
  const now = new Date()
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: site.zone }
  const place = <SiteSwitch site={site} others={site.others} path="/trips" />
  return (
    <>
      <PhoneHead title={t('title')} where={place} backHref="/cylinders" />
      <DeskPageHead title={t('title')} sentence={place} />
      <SectionNav section="gas" viewer={viewer} siteId={site.id} />
      <div className="grid gap-10 px-4 pb-8 desk:grid-cols-2 desk:px-8">
        <section>
          <h2 className="type-section border-b-2 border-ink pb-1">{t('trips')}</h2>
          {page.trips.length === 0 ? <p className="py-2 text-ink-2">{t('noTrips')}</p> : null}
          <ul className="plain-rows">
            {page.trips.map((trip) => (
              <PlainRow
                key={trip.id}
                href={`/trips/${trip.id}`}
                title={t('line', { from: trip.fromName, to: trip.toName })}
                note={t('note', {
                  vehicle: trip.vehicleName,
                  driver: trip.driverName,
                  when: formatWhen(trip.madeAt, now, prefs),
                  count: trip.cylinders,
                })}
                aside={t(`states.${trip.state as 'loading'}`)}
                isQuiet={trip.state === 'ended'}
              />
            ))}
          </ul>
          {page.mayMove ? <StartForm siteId={site.id} page={page} /> : null}
        </section>
        <section>
          <h2 className="type-section border-b-2 border-ink pb-1">{t('vehicles')}</h2>
          <VehicleList page={page} />
          {page.mayMove ? <VehicleForm siteId={site.id} /> : null}
        </section>
      </div>
      <ListFiles lists={['trips', 'loads', 'vehicles']} query={{ site: site.id }} />
    </>
  )
}
