import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { Status } from '@/app/_components/marks/status-mark'
import type { FleetSite } from '@/lib/data/fleet'
import type { FormatPrefs } from '@/lib/format/prefs'
import { statusOf } from '../permits/permit-status'
import { Left } from '../permits/permit-table'
import { PhoneGas } from './phone-gas'

type PhoneProps = Readonly<{ sites: readonly FleetSite[]; now: Date; prefs: FormatPrefs }>

/** On a phone each site is a block: what burns, then how long the gas lasts. */
export function PhoneSites({ sites, now, prefs }: PhoneProps) {
  const t = useTranslations('sites')
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
            className="flex flex-wrap items-center justify-between gap-x-3 border-b border-rule py-1 [&_.past-end]:mb-2"
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
      <PhoneGas gases={gases} now={now} prefs={prefs} />
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
