import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { CostLines } from '@/app/_components/cost-lines'
import { Column, DataTable } from '@/app/_components/data-table'
import type { SiteCost } from '@/lib/data/costs'
import { formatMoney } from '@/lib/format/numbers'

type SiteCostsProps = Readonly<{ costs: SiteCost; month: string }>

/** What a site's cylinders cost in a month, what of it is each job's, and what lies with suppliers as deposits. */
export function SiteCosts({ costs, month }: SiteCostsProps) {
  const t = useTranslations('rent.costs')
  const { currency, deposits } = costs
  return (
    <section className="desk:max-w-[720px]">
      <h2 className="type-section pb-1">{t('site', { month })}</h2>
      <CostLines cost={costs.cost} currency={currency} />
      {costs.jobs.length > 0 ? <JobTable costs={costs} month={month} /> : null}
      <p className="mt-2 type-note">
        {t('deposits', {
          amount: formatMoney(deposits.minor, currency),
          count: deposits.cylinders,
        })}{' '}
        {deposits.withoutTerms > 0 ? t('depositsUnknown', { count: deposits.withoutTerms }) : null}
      </p>
      <p className="type-note text-ink-2">{t('how')}</p>
    </section>
  )
}

function JobTable({ costs, month }: SiteCostsProps) {
  const t = useTranslations('rent.costs')
  const money = (minor: number) => formatMoney(Math.round(minor), costs.currency)
  const head = (
    <>
      <Column>{t('jobHead')}</Column>
      <Column isFigure>{t('rent')}</Column>
      <Column isFigure>{t('gas')}</Column>
      <Column isFigure>{t('total')}</Column>
    </>
  )
  return (
    <div className="mt-3 overflow-x-auto">
      <DataTable caption={t('site', { month })} head={head}>
        <tbody>
          {costs.jobs.map((job) => (
            <tr key={job.id}>
              <td>
                <Link className="text-link" href={`/jobs/${job.id}`}>
                  {job.number}
                </Link>{' '}
                {job.title}
              </td>
              <td className="is-figure">{money(job.cost.rentMinor + job.cost.demurrageMinor)}</td>
              <td className="is-figure">{money(job.cost.gasMinor)}</td>
              <td className="is-figure">{money(job.cost.totalMinor)}</td>
            </tr>
          ))}
        </tbody>
      </DataTable>
    </div>
  )
}
