import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { ClockAxis } from '@/app/_components/live/axis'
import { LiveBar } from '@/app/_components/live/live-bar'
import type { PlanPage } from '@/lib/data/plan/plan'
import { formatDay } from '@/lib/format/clock'
import { atHourOfDay } from '@/lib/format/zone'
import type { PlanAsk } from '@/lib/schemas/plan'
import { daysFrom } from '../sites/gas-bar'
import { dayOf } from './day-of'
import { outBar, SHOWN_DAYS } from './out-bar'
import { planHref } from './plan-address'

/** Out before another truck could be sent for and come: said in heat. */
const SOON_DAYS = 3

type OutsProps = Readonly<{ page: PlanPage; ask: PlanAsk }>

/** Which gas is out first where, if nothing is ordered; the one that is drawn is marked. */
export function OutsList({ page, ask }: OutsProps) {
  const t = useTranslations('plan')
  const g = useTranslations('permit.vessel.gas')
  const today = page.sites[0]?.today ?? ''
  const todayMs = atHourOfDay(page.now.getTime(), page.sites[0]?.zone ?? 'UTC', 0)
  const dayWords = (day: number | null) =>
    day === null ? t('pastPlan') : formatDay(dayOf(today, day), { timeZone: 'UTC' })
  return (
    <nav aria-label={t('runsOutFirst')}>
      <div className="flex justify-between border-b-2 border-ink pb-1">
        <h2 className="type-section">{t('runsOutFirst')}</h2>
        <p className="type-small text-ink-2">{t('nothingOrdered')}</p>
      </div>
      <ClockAxis axis={{ kind: 'fixed', ...daysFrom(page.now, SHOWN_DAYS) }} widthPx={296}>
        <div data-axis-width="" aria-hidden="true" />
        <ul>
          {page.outs.map((out) => {
            const isDrawn = page.fan?.site.id === out.siteId && page.fan.gas.sizeId === out.sizeId
            const isSoon = out.dayNothing !== null && out.dayNothing < SOON_DAYS
            return (
              <li key={`${out.siteId}${out.sizeId}`} className="relative border-b border-rule">
                <Link
                  href={planHref(ask, { site: out.siteId, gas: out.gasId, size: out.sizeId })}
                  aria-current={isDrawn ? 'true' : undefined}
                  className="block pt-2 pb-3 text-ink"
                >
                  {isDrawn ? (
                    <span className="absolute inset-y-0 -left-4 w-1 bg-cobalt" aria-hidden="true" />
                  ) : null}
                  <span className="mb-2 flex items-baseline justify-between gap-3">
                    <span>
                      <b className="font-[650]">{out.siteName}</b> {g(out.gasId as 'oxygen')}{' '}
                      {out.sizeName}
                    </span>
                    <span
                      className={`whitespace-nowrap ${out.dayNothing === null ? 'text-ink-2' : 'font-[650]'} ${isSoon ? 'text-heat' : ''}`}
                    >
                      {dayWords(out.dayNothing)}
                    </span>
                  </span>
                  <LiveBar bar={outBar(out, todayMs)} size="desk" />
                </Link>
              </li>
            )
          })}
        </ul>
      </ClockAxis>
    </nav>
  )
}
