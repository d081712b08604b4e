import { useTranslations } from 'next-intl'
import { Column, DataTable, FigureCells } from '@/app/_components/data-table'
import { ClockAxis } from '@/app/_components/live/axis'
import { DeskAxisHead } from '@/app/_components/live/axis-head'
import { LiveBar } from '@/app/_components/live/live-bar'
import type { GasForecast } from '@/lib/data/forecast'
import type { FormatPrefs } from '@/lib/format/prefs'
import { atHourOfDay } from '@/lib/format/zone'
import { daysFrom, endOfDay, gasBar } from '../sites/gas-bar'
import { outWords } from '../sites/out-words'
import { TruckWedges } from '../sites/truck-wedge'

const SHOWN_DAYS = 15
const HUNDRED = 100
const one = (value: number) => (Math.round(value * 10) / 10).toLocaleString('en-US')

type FactsProps = Readonly<{ gases: readonly GasForecast[]; now: Date; prefs: FormatPrefs }>

/** What the forecast says of each gas: stock, what is planned, when it may be out, and the risk by the week. */
export function GasFacts({ gases, now, prefs }: FactsProps) {
  const t = useTranslations('orders')
  const g = useTranslations('permit.vessel.gas')
  const s = useTranslations('sites')
  const todayMs = atHourOfDay(now.getTime(), prefs.timeZone, 0)
  const riskBy = (gas: GasForecast, day: number) =>
    Math.round((gas.forecast.days.find((one) => one.day === day)?.shortChance ?? 0) * HUNDRED)
  return (
    <ClockAxis axis={{ kind: 'fixed', ...daysFrom(now, SHOWN_DAYS) }} widthPx={300} hasNowLine>
      <DataTable
        caption={t('forecastCaption')}
        head={
          <>
            <Column>{t('gas')}</Column>
            <Column isFigure colSpan={2}>
              {t('stock')}
            </Column>
            <Column isFigure>{t('planned')}</Column>
            <Column isFigure>{t('out')}</Column>
            <Column isFigure>{t('risk7')}</Column>
            <th scope="col" className="axis-cell w-[34%]" aria-label={t('days')}>
              <DeskAxisHead step="days" />
            </th>
          </>
        }
      >
        <tbody>
          {gases.map((gas) => {
            const { words, isTrouble } = outWords(s, {
              day: gas.forecast.daysUntilShort,
              todayMs,
              prefs,
            })
            return (
              <tr key={gas.gasId}>
                <td className="font-[650]">{g(gas.gasId as 'oxygen')}</td>
                <FigureCells
                  value={one(gas.stockCylinders)}
                  interval={t('counted', { full: gas.full, part: gas.part })}
                />
                <td className="is-figure">{t('about', { value: one(gas.plannedCylinders) })}</td>
                <td className={`is-figure ${isTrouble ? 'is-trouble' : ''}`} data-out={gas.gasId}>
                  {words}
                </td>
                <td className="is-figure">{t('percent', { value: riskBy(gas, 7) })}</td>
                <td className="axis-cell">
                  <div className="relative">
                    <LiveBar bar={gasBar(gas, todayMs)} size="desk" />
                    <TruckWedges
                      atMs={gas.arrivals.map((arrival) => endOfDay(todayMs, arrival.day - 0.5))}
                    />
                  </div>
                </td>
              </tr>
            )
          })}
        </tbody>
      </DataTable>
    </ClockAxis>
  )
}
