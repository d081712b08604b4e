import { useTranslations } from 'next-intl'
import { ClockAxis } from '@/app/_components/live/axis'
import { DeskAxisHead } from '@/app/_components/live/axis-head'
import { LiveBar } from '@/app/_components/live/live-bar'
import type { FleetGas } from '@/lib/data/fleet'
import type { FormatPrefs } from '@/lib/format/prefs'
import { atHourOfDay } from '@/lib/format/zone'
import { daysFrom, endOfDay, gasBar } from './gas-bar'
import { outWords } from './out-words'
import { TruckWedges } from './truck-wedge'

const SHOWN_DAYS = 8

type GasProps = Readonly<{ gases: readonly FleetGas[]; now: Date; prefs: FormatPrefs }>

/** On a phone: each gas of a site, what is there, and until when it lasts on one axis of eight days. */
export function PhoneGas({ gases, now, prefs }: GasProps) {
  const t = useTranslations('sites')
  const g = useTranslations('permit.vessel.gas')
  const todayMs = atHourOfDay(now.getTime(), prefs.timeZone, 0)
  if (gases.length === 0) return <p className="type-note text-ink-2">{t('noGas')}</p>
  return (
    <ClockAxis axis={{ kind: 'fixed', ...daysFrom(now, SHOWN_DAYS) }}>
      <div className="pt-3">
        <DeskAxisHead step="days" />
      </div>
      <ul>
        {gases.map((gas) => {
          const { words, isTrouble, isPast } = outWords(t, {
            day: gas.forecast.daysUntilShort,
            todayMs,
            prefs,
          })
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
              <div className="relative mt-1 pt-3">
                <LiveBar bar={gasBar(gas, todayMs)} size="small" />
                <TruckWedges
                  topPx={1}
                  atMs={gas.arrivals.map((arrival) => endOfDay(todayMs, arrival.day - 0.5))}
                />
              </div>
            </li>
          )
        })}
      </ul>
    </ClockAxis>
  )
}
