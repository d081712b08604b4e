import { useTranslations } from 'next-intl'
import type { HoldingCost } from '@/lib/calc/holding-cost'
import { formatMoney } from '@/lib/format/numbers'

const LINES = ['rent', 'demurrage', 'gas', 'lost'] as const
const TENTHS = 10

type CostProps = Readonly<{ cost: HoldingCost; currency: string }>

/** What cylinders cost, line by line, and what no agreement or price says. */
export function CostLines({ cost, currency }: CostProps) {
  const t = useTranslations('rent.costs')
  const money = (minor: number) => formatMoney(Math.round(minor), currency)
  return (
    <>
      <dl className="border-t-2 border-ink">
        {LINES.map((line) => (
          <div key={line} className="flex justify-between gap-3 border-b border-rule py-2">
            <dt>{t(line)}</dt>
            <dd className="tabular-nums">{money(cost[`${line}Minor`])}</dd>
          </div>
        ))}
        <div className="flex justify-between gap-3 border-b-2 border-ink py-2 font-[650]">
          <dt>{t('total')}</dt>
          <dd className="tabular-nums">{money(cost.totalMinor)}</dd>
        </div>
      </dl>
      <UnknownCosts cost={cost} />
    </>
  )
}

export function UnknownCosts({ cost }: Pick<CostProps, 'cost'>) {
  const t = useTranslations('rent.costs')
  const { rentDays, gasKg, lost } = cost.unknown
  const kg = Math.round(gasKg * TENTHS) / TENTHS
  const parts = [
    rentDays > 0 ? t('rentDays', { count: rentDays }) : null,
    kg > 0 ? t('gasKg', { kg }) : null,
    lost > 0 ? t('lostCount', { count: lost }) : null,
  ].filter((part) => part !== null)
  if (parts.length === 0) return null
  return <p className="trouble mt-1">{t('unknown', { parts: parts.join(', ') })}</p>
}
