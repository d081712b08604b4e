import { useTranslations } from 'next-intl'
import { CostLines } from '@/app/_components/cost-lines'
import type { HoldingCost } from '@/lib/calc/holding-cost'

/** What the cylinders of a job have cost so far. */
export function JobCosts({
  costs,
}: Readonly<{ costs: Readonly<{ currency: string; cost: HoldingCost }> | null }>) {
  const t = useTranslations('rent.costs')
  if (!costs) return null
  return (
    <section className="px-4 py-3 desk:px-0">
      <h2 className="type-section pb-1">{t('job')}</h2>
      <CostLines cost={costs.cost} currency={costs.currency} />
      <p className="type-note text-ink-2">{t('jobHow')}</p>
    </section>
  )
}
