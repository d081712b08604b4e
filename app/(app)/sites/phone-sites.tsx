import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { ClockAxis } from '@/app/_components/live/axis'
import { DeskAxisHead } from '@/app/_components/live/axis-head'
import { LiveBar } from '@/app/_components/live/live-bar'
import { Status } from '@/app/_components/marks/status-mark'
import type { FleetSite } from '@/lib/data/fleet'
import type { FormatPrefs } from '@/lib/format/prefs'
import { atHourOfDay } from '@/lib/format/zone'
import { statusOf } from '../permits/permit-status'
import { Left } from '../permits/permit-table'
import { daysFrom, endOfDay, gasBar } from './gas-bar'
import { useOutWords } from './gas-sheet'
import { TruckWedges } from './truck-wedge'

const SHOWN_DAYS = 8

type PhoneProps = Readonly<{ sites: readonly FleetSite[]; now: Date; prefs: FormatPrefs }>

/** On a phone each site is a block: what burns, then how long the gas lasts. */
export function PhoneSites({ sites, now, prefs }: PhoneProps) {
  const t = useTranslations('sites')
  const g = useTranslations('permit.vessel.gas')
  const out = useOutWords(now, prefs)
  const todayMs = atHourOfDay(now.getTime(), prefs.timeZone, 0)
  return sites.map(({ site, keeperName, permits, gases, mayOrder }) => (
    <section key={site.id} className="border-b-2 border-ink px-4 py-3">
      <div className="flex items-baseline justify-between gap-3">
        <h2 className="type-phone-title">
          <Link href={`/today?site=${site.id}`}>{site.name}</Link>
        </h2>
        <span className="type-note text-ink-2">{keeperName}</span>
      </div>
      <ul>
        {permits.map((row) => (
          <li
            key={row.id}
            className="flex items-center justify-between gap-3 border-b border-rule py-1"
          >
            <Link href={`/permits/${row.id}`} className="flex min-h-12 items-center gap-2">
              <Status status={statusOf(row)} size="desk" />
              <span>{row.areaName}</span>
            </Link>
            <Left row={row} now={now} prefs={prefs} />
          </li>
        ))}
      </ul>
      {permits.length === 0 ? <p className="type-note text-ink-2">{t('noPermits')}</p> : null}
      <ClockAxis axis={{ kind: 'fixed', ...daysFrom(now, SHOWN_DAYS) }}>
        <div className="pt-3">
          <DeskAxisHead step="days" />
        </div>
        <ul>
          {gases.map((gas) => {
            const { words, isTrouble, isPast } = out(gas)
            return (
              <li key={gas.gasId} className="border-b border-rule py-2">
                <p className="flex justify-between gap-3">
                  <span>
                    <b className="font-[650]">{g(gas.gasId as 'oxygen')}</b>{' '}
                    <span className="text-ink-2">
                      {t('stock', { full: gas.full, part: gas.part })}
                    </span>
                  </span>
                  <span className={isTrouble ? 'font-[650] text-heat' : ''}>
                    {t('outBy', { words: isPast ? 'past' : words })}
                  </span>
                </p>
                <div className="relative pt-2">
                  <LiveBar bar={gasBar(gas, todayMs)} size="small" />
                  <TruckWedges
                    atMs={gas.arrivals.map((arrival) => endOfDay(todayMs, arrival.day - 0.5))}
                  />
                </div>
              </li>
            )
          })}
        </ul>
      </ClockAxis>
      {mayOrder ? (
        <p className="pt-2">
          <Link className="text-link inline-block py-2" href={`/orders?site=${site.id}`}>
            {t('orderAt')}
          </Link>
        </p>
      ) : null}
    </section>
  ))
}
