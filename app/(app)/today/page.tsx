import type { Metadata } from 'next'
import { getTranslations } from 'next-intl/server'
import { ButtonLink } from '@/app/_components/controls/button'
import { DayClock } from '@/app/_components/day-clock'
import { DeskPageHead } from '@/app/_components/desk-page-head'
import { found } from '@/app/_components/found'
import { ClockAxis } from '@/app/_components/live/axis'
import { PhoneAxisHead } from '@/app/_components/live/axis-head'
import { PrefsProvider } from '@/app/_components/live/prefs'
import { PhoneHead } from '@/app/_components/phone-head'
import { SiteSwitch } from '@/app/_components/site-switch'
import { EmptyState } from '@/app/_components/states/empty-state'
import { requireViewer } from '@/lib/auth/viewer'
import { resolveSite } from '@/lib/data/sites'
import { getToday, type Today } from '@/lib/data/today/today'
import type { FormatPrefs } from '@/lib/format/prefs'
import { GasRow } from './gas-row'
import { TodayPermitRow } from './permit-row'
import { rowsOf, type TodayRow } from './rows-of'
import { TodayTable } from './today-table'
import { WaitingRows } from './waiting-rows'

type TodayPageProps = Readonly<{ searchParams: Promise<{ site?: string }> }>

export async function generateMetadata(): Promise<Metadata> {
  return { title: (await getTranslations('today'))('title') }
}

export default async function TodayPage({ searchParams }: TodayPageProps) {
  const viewer = await requireViewer()
  const site = await found(resolveSite(viewer, (await searchParams).site))
  const today = await found(getToday(viewer, site.id))
  const t = await getTranslations('today')
  const prefs = { units: viewer.units, clock: viewer.clock, timeZone: site.zone }
  const { now, waiting, notices } = today
  const rows = rowsOf(today, site.id)
  const place = <SiteSwitch site={site} others={site.others} path="/today" />
  const clock = <DayClock now={now} prefs={prefs} />
  return (
    <PrefsProvider prefs={prefs}>
      <PhoneHead title={place} aside={clock} />
      <DeskPageHead
        title={place}
        sentence={t('sentence', {
          running: today.permits.length,
          waiting: waiting.length + notices.length,
        })}
        actions={clock}
      />
      {rows.length === 0 ? (
        <EmptyState title={t('empty')} next={t(today.can.prepare ? 'emptyNext' : 'emptyWait')} />
      ) : null}
      {rows.length > 0 ? (
        <>
          <div className="desk:hidden">
            <PhoneAxis rows={rows} now={now} prefs={prefs} />
          </div>
          <div className="hidden px-8 pb-6 desk:block">
            <TodayTable rows={rows} now={now} prefs={prefs} />
          </div>
        </>
      ) : null}
      <div className="desk:px-8">
        {waiting.length + notices.length > 0 ? (
          <h2 className="sr-only desk:not-sr-only desk:border-b-2 desk:border-ink desk:pb-1.5 desk:text-[17px] desk:font-[650]">
            {t('waitsOnYou')}
          </h2>
        ) : null}
        <WaitingRows waiting={waiting} notices={notices} now={now} prefs={prefs} />
      </div>
      <Next today={today} siteId={site.id} />
    </PrefsProvider>
  )
}

function PhoneAxis({
  rows,
  now,
  prefs,
}: Readonly<{ rows: readonly TodayRow[]; now: Date; prefs: FormatPrefs }>) {
  return (
    <ClockAxis axis={{ kind: 'phone' }}>
      <PhoneAxisHead />
      <ul className="time-rows">
        {rows.map((row) =>
          row.kind === 'permit' ? (
            <TodayPermitRow key={row.key} permit={row.permit} now={now} prefs={prefs} />
          ) : (
            <GasRow key={row.key} gas={row.gas} now={now} prefs={prefs} />
          ),
        )}
      </ul>
    </ClockAxis>
  )
}

async function Next({ today, siteId }: Readonly<{ today: Today; siteId: string }>) {
  const t = await getTranslations('today')
  if (!today.can.prepare && !today.can.outside) return null
  return (
    <div className="thumb border-t-0!">
      {today.can.prepare ? (
        <ButtonLink isWide href={`/permits/new?site=${siteId}`}>
          {t('prepare')}
        </ButtonLink>
      ) : null}
      {today.can.outside ? (
        <p className="text-center">
          <a className="text-link inline-block py-2" href={`/outside?site=${siteId}`}>
            {t('outside')}
          </a>
        </p>
      ) : null}
    </div>
  )
}
