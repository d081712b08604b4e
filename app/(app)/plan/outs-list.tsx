import Link from 'next/link'
import { useTranslations } from 'next-intl'
import type { PlanPage } from '@/lib/data/plan/plan'
import { formatDay } from '@/lib/format/clock'
import type { PlanAsk } from '@/lib/schemas/plan'
import { dayOf } from './day-of'
import { planHref } from './plan-address'

type OutsProps = Readonly<{ page: PlanPage; ask: PlanAsk }>

/** Which gas is out first where, if nothing is ordered; the one that is drawn is marked. */
export function OutsList({ page, ask }: OutsProps) {
  const t = useTranslations('plan')
  const g = useTranslations('permit.vessel.gas')
  const today = page.sites[0]?.today ?? ''
  const dayWords = (day: number | null) =>
    day === null ? t('pastPlan') : formatDay(dayOf(today, day), { timeZone: 'UTC' })
  return (
    <nav aria-label={t('runsOutFirst')}>
      <div className="flex justify-between border-b-2 border-ink pb-1">
        <h2 className="type-section">{t('runsOutFirst')}</h2>
        <p className="type-small text-ink-2">{t('nothingOrdered')}</p>
      </div>
      <ul>
        {page.outs.map((out) => {
          const isDrawn = page.fan?.site.id === out.siteId && page.fan.gas.sizeId === out.sizeId
          return (
            <li key={`${out.siteId}${out.sizeId}`} className="border-b border-rule">
              <Link
                href={planHref(ask, { site: out.siteId, gas: out.gasId, size: out.sizeId })}
                aria-current={isDrawn ? 'true' : undefined}
                className={`flex min-h-12 items-center justify-between gap-3 border-l-4 pl-2 text-ink ${isDrawn ? 'border-cobalt' : 'border-transparent'}`}
              >
                <span>
                  <b className="font-[650]">{out.siteName}</b> {g(out.gasId as 'oxygen')}{' '}
                  {out.sizeName}
                </span>
                <span
                  className={`whitespace-nowrap ${out.dayNothing === null ? 'text-ink-2' : 'font-[650] text-heat'}`}
                >
                  {dayWords(out.dayNothing)}
                </span>
              </Link>
            </li>
          )
        })}
      </ul>
    </nav>
  )
}
