import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { PhoneHead } from '@/app/_components/phone-head'
import { requireViewer } from '@/lib/auth/viewer'
import { getTrip } from '@/lib/data/gear/trips'
import { LeaveForm, LoadForm, UnloadForm } from './load-forms'
import { LoadItems, LoadVerdict } from './load-words'
import { ScanOff, ScanOn } from './scan-on-trip'

type TripProps = Readonly<{ params: Promise<{ tripId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('trips'))('one') }
}

export default async function TripScreen({ params }: TripProps) {
  const viewer = await requireViewer()
  const { tripId } = await params
  const trip = await found(getTrip(viewer, tripId))
  const t = await getTranslations('trips')
  const title = t('line', { from: trip.fromName, to: trip.toName })
  const where = t('where', { vehicle: trip.vehicle.name, driver: trip.driverName })
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: trip.zone }
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead title={title} where={where} backHref={`/trips?site=${trip.siteId}`} />
      <DeskPageHead
        title={title}
        sentence={`${where} ${t(`states.${trip.state}`)}.`}
        actions={<ButtonLink href={`/trips/${trip.id}/sheet`}>{t('sheet')}</ButtonLink>}
      />
      <div className="grid gap-10 px-4 pb-8 desk:grid-cols-2 desk:px-8">
        <div>
          <LoadVerdict trip={trip} prefs={prefs} />
          <LoadItems trip={trip} prefs={prefs} />
          <p className="py-3 desk:hidden">
            <ButtonLink href={`/trips/${trip.id}/sheet`}>{t('sheet')}</ButtonLink>
          </p>
        </div>
        <div className="grid content-start gap-8">
          {trip.state === 'loading' && trip.can.load ? <ScanOn trip={trip} /> : null}
          {trip.state === 'loading' && trip.can.load ? <LoadForm trip={trip} /> : null}
          {trip.state === 'loading' && trip.can.load ? <LeaveForm trip={trip} /> : null}
          {trip.state === 'loading' && trip.can.load ? (
            <UnloadForm trip={trip} siteId={trip.siteId} where={trip.fromName} areas={[]} />
          ) : null}
          {trip.state === 'under_way' && trip.can.unload ? (
            <ScanOff trip={trip} siteId={trip.toSiteId} where={trip.toName} areas={trip.areas} />
          ) : null}
          {trip.state === 'under_way' && trip.can.unload ? (
            <UnloadForm trip={trip} siteId={trip.toSiteId} where={trip.toName} areas={trip.areas} />
          ) : null}
        </div>
      </div>
    </PrefsProvider>
  )
}
