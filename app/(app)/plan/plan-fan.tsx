import { useTranslations } from 'next-intl'
import { Column, DataTable } from '@/app/_components/data-table'
import type { PlanFan } from '@/lib/data/plan/plan'
import { formatDay } from '@/lib/format/clock'
import { dayOf } from './day-of'
import { FanDrawing } from './fan-drawing'
import { FanWords } from './fan-words'
import { HowForecast } from './how-forecast'
import { percentWords } from './percent-words'

const TOLD = 0.1
const one = (value: number) => (Math.round(value * 10) / 10).toLocaleString('en-US')

/** What is left of one gas at one site, as a fan, with what comes and the chance of being out under each day. */
export function PlanFanChart({ fan }: Readonly<{ fan: PlanFan }>) {
  const t = useTranslations('plan')
  const g = useTranslations('permit.vessel.gas')
  const days = fan.left.map((_, day) => dayOf(fan.site.today, day))
  const out = fan.chance.findIndex((chance) => chance >= TOLD)
  const outNothing = fan.chanceNothing.findIndex((chance) => chance >= TOLD)
  const heading = t('fanTitle', {
    site: fan.site.name,
    gas: g(fan.gas.gasId as 'oxygen'),
    size: fan.gas.sizeName,
  })
  const sentence =
    out < 0
      ? t('fanCovered', { days: days.length })
      : t('fanOut', {
          percent: percentWords(fan.chance[out] ?? 0),
          day: formatDay(days[out] ?? 0, { timeZone: 'UTC' }),
        })
  return (
    <section aria-label={heading}>
      <div className="flex flex-wrap items-baseline justify-between gap-x-6 border-b-2 border-ink pb-1">
        <h2 className="type-section">{heading}</h2>
        <p className="type-small text-ink-2">{t('fanKey')}</p>
      </div>
      <p className="py-2">
        <span className={out < 0 ? '' : 'font-[650] text-heat'}>{sentence}</span>{' '}
        {outNothing < 0
          ? t('fanNothingCovered', { days: days.length })
          : t('fanNothingOut', {
              percent: percentWords(fan.chanceNothing[outNothing] ?? 0),
              day: formatDay(days[outNothing] ?? 0, { timeZone: 'UTC' }),
            })}
      </p>
      <div className="desk:hidden">
        <FanDrawing fan={fan} days={days} size="phone" />
      </div>
      <div className="hidden desk:block">
        <FanDrawing fan={fan} days={days} size="desk" />
      </div>
      <FanWords fan={fan} days={days} />
      <details className="mt-2">
        <summary className="min-h-12 content-center text-cobalt underline desk:min-h-8">
          {t('fanTable')}
        </summary>
        <DataTable
          caption={heading}
          isWide
          head={
            <>
              <Column>{t('day')}</Column>
              <Column isFigure>{t('left')}</Column>
              <Column isFigure>{t('leftInterval')}</Column>
              <Column isFigure>{t('chanceOut')}</Column>
              <Column isFigure>{t('chanceNothing')}</Column>
            </>
          }
        >
          <tbody>
            {days.map((day, i) => (
              <tr key={day}>
                <td className="whitespace-nowrap">{formatDay(day, { timeZone: 'UTC' })}</td>
                <td className="is-figure">{t('about', { value: one(fan.left[i]?.[2] ?? 0) })}</td>
                <td className="is-interval">
                  {one(fan.left[i]?.[0] ?? 0)}–{one(fan.left[i]?.[4] ?? 0)}
                </td>
                <td className="is-figure">{percentWords(fan.chance[i] ?? 0)}</td>
                <td className="is-figure">{percentWords(fan.chanceNothing[i] ?? 0)}</td>
              </tr>
            ))}
          </tbody>
        </DataTable>
      </details>
      <HowForecast gases={[fan.gas.forecast]} />
    </section>
  )
}
