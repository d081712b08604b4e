import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { DataTable } from '@/app/_components/data-table'
import { ClockAxis } from '@/app/_components/live/axis'
import { DeskAxisHead } from '@/app/_components/live/axis-head'
import { LiveBar } from '@/app/_components/live/live-bar'
import type { FleetGas, FleetSite } from '@/lib/data/fleet'
import type { FormatPrefs } from '@/lib/format/prefs'
import { atHourOfDay } from '@/lib/format/zone'
import { daysFrom, endOfDay, gasBar } from './gas-bar'
import { outWords } from './out-words'
import { BlankRows, gasLines, sheetLines } from './sheet-lines'
import { TruckWedges } from './truck-wedge'

type SheetProps = Readonly<{ sites: readonly FleetSite[]; now: Date; prefs: FormatPrefs }>

const SHOWN_DAYS = 8
const AXIS_PX = 206

/** Right: how long each site's gas lasts, over the next eight days. */
export function GasSheet({ sites, now, prefs }: SheetProps) {
  const t = useTranslations('sites')
  const todayMs = atHourOfDay(now.getTime(), prefs.timeZone, 0)
  return (
    <ClockAxis axis={{ kind: 'fixed', ...daysFrom(now, SHOWN_DAYS) }} widthPx={AXIS_PX} hasNowLine>
      <DataTable
        caption={t('gasCaption')}
        className="table-fixed [&_td]:h-[34px] [&_td]:py-0"
        head={
          <>
            <th scope="col" className="w-[84px] overflow-visible whitespace-nowrap">
              {t('gasOnSite')}
            </th>
            <th scope="col" className="w-[108px]" aria-label={t('stockColumn')} />
            <th scope="col" className="is-figure w-[92px]">
              {t('out')}
            </th>
            <th scope="col" className="axis-cell" aria-label={t('days')}>
              <DeskAxisHead step="days" />
            </th>
          </>
        }
      >
        {sites.map((one) => (
          <tbody key={one.site.id} className="is-ruled">
            {one.gases.map((gas) => (
              <GasLine key={gas.gasId} gas={gas} one={one} todayMs={todayMs} prefs={prefs} />
            ))}
            {one.gases.length === 0 ? (
              <tr>
                <td colSpan={4} className="text-ink-2">
                  {t('noGas')}
                </td>
              </tr>
            ) : null}
            <BlankRows count={sheetLines(one) - gasLines(one)} columns={4} />
          </tbody>
        ))}
      </DataTable>
    </ClockAxis>
  )
}

type LineProps = Readonly<{ gas: FleetGas; one: FleetSite; todayMs: number; prefs: FormatPrefs }>

function GasLine({ gas, one, todayMs, prefs }: LineProps) {
  const t = useTranslations('sites')
  const g = useTranslations('permit.vessel.gas')
  const { words, isTrouble } = outWords(t, { day: gas.forecast.daysUntilShort, todayMs, prefs })
  const name = g(gas.gasId as 'oxygen')
  return (
    <tr>
      <td className="font-[650]">
        {one.mayOrder ? (
          <Link
            href={`/orders?site=${one.site.id}`}
            className="text-ink underline decoration-cobalt underline-offset-4"
            aria-label={t('orderLink', { gas: name, site: one.site.shortName })}
          >
            {name}
          </Link>
        ) : (
          name
        )}
      </td>
      <td className="truncate text-ink-2">{t('stock', { full: gas.full, part: gas.part })}</td>
      <td className={`is-figure ${isTrouble ? 'is-trouble' : ''}`}>{words}</td>
      <td className="axis-cell">
        <div className="relative">
          <LiveBar bar={gasBar(gas, todayMs)} size="desk" />
          <TruckWedges atMs={gas.arrivals.map((arrival) => endOfDay(todayMs, arrival.day - 0.5))} />
        </div>
      </td>
    </tr>
  )
}
