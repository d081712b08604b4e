import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { found } from '@/app/_components/found'
import { PhoneHead } from '@/app/_components/phone-head'
import { StoreCitation } from '@/app/_components/rules/store-citation'
import { PrintButton } from '@/app/(app)/permits/[permitId]/record/print-button'
import { requireViewer } from '@/lib/auth/viewer'
import { getTrip } from '@/lib/data/gear/trips'
import { formatWhen } from '@/lib/format/clock'
import { TRIP_CHECK_RULES, TRIP_CHECKS } from '@/lib/rules/trip'
import { LoadItems, LoadVerdict } from '../load-words'

type SheetProps = Readonly<{ params: Promise<{ tripId: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('trips'))('sheet') }
}

/** What rides in the cab: where to, what, how heavy, what was looked at, whom to call. */
export default async function LoadSheetPage({ params }: SheetProps) {
  const viewer = await requireViewer()
  const { tripId } = await params
  const trip = await found(getTrip(viewer, tripId))
  const t = await getTranslations('trips')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: trip.zone }
  return (
    <>
      <div className="not-printed">
        <PhoneHead title={t('sheet')} backHref={`/trips/${trip.id}`} level={2} />
        <p className="flex flex-wrap items-center gap-3 px-4 py-3 desk:px-8">
          <PrintButton kind="main">{t('print')}</PrintButton>
          <ButtonLink href={`/trips/${trip.id}`}>{t('back')}</ButtonLink>
        </p>
      </div>
      <article className="max-w-[182mm] px-4 pb-8 desk:px-8">
        <h1 className="type-desk-title">{t('line', { from: trip.fromName, to: trip.toName })}</h1>
        <p>{t('where', { vehicle: trip.vehicle.name, driver: trip.driverName })}</p>
        <p className="type-ident">{trip.vehicle.plate}</p>
        <p>{trip.toAddress}</p>
        <p className="py-2 font-[600]">
          {trip.leftAt
            ? t('left', { when: formatWhen(trip.leftAt, new Date(), prefs) })
            : t('notLeft')}
          {trip.shippingPaperNo ? ` ${t('paperNo', { number: trip.shippingPaperNo })}` : ''}
        </p>
        <LoadVerdict trip={trip} prefs={prefs} />
        <LoadItems trip={trip} prefs={prefs} />
        <h2 className="type-section mt-6 border-b-2 border-ink pb-1">{t('before')}</h2>
        <ul>
          {TRIP_CHECKS.map((check) => {
            const ruleId = TRIP_CHECK_RULES[check]
            return (
              <li key={check} className="border-b border-rule py-1">
                {t(trip.checks.includes(check) ? 'ticked' : 'unticked', {
                  check: t(`checks.${check}`),
                })}{' '}
                {ruleId ? (
                  <StoreCitation ruleId={ruleId} />
                ) : (
                  <span className="type-small text-ink-2">{t('practice')}</span>
                )}
              </li>
            )
          })}
        </ul>
        <h2 className="type-section mt-6 border-b-2 border-ink pb-1">{t('emergency')}</h2>
        <p>{trip.emergencyWords}</p>
        <p className="type-small pt-3 text-ink-2">{t('caution')}</p>
      </article>
    </>
  )
}
