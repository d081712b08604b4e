import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'
import type { SupplierRow } from '@/lib/data/suppliers'
import { formatDate } from '@/lib/format/clock'
import { formatMoney } from '@/lib/format/numbers'
import { AgreementForm, PriceForm, type SupplierAt, SupplierForm } from './supplier-forms'

type WordsProps = Readonly<{ supplier: SupplierRow; at: SupplierAt; mayWrite: boolean }>

/** A supplier: whom to write to, what is agreed here, what a fill costs; and the forms that change it. */
export function SupplierWords({ supplier, at, mayWrite }: WordsProps) {
  const t = useTranslations('suppliers')
  const c = useTranslations('cylinders')
  const money = (minor: number) => formatMoney(minor, at.currency)
  return (
    <section className="border-t-2 border-ink pt-2">
      <h2 className="type-row-title">{supplier.name}</h2>
      <p className="type-note text-ink-2">
        {t('line', { days: supplier.leadDays, fee: money(supplier.deliveryFeeMinor) })}
        {supplier.orderEmail ? ` ${supplier.orderEmail}` : null}
      </p>
      <Agreed supplier={supplier} at={at} />
      <ul className="border-t border-rule">
        {supplier.prices.map((price) => (
          <li key={price.sizeId} className="flex justify-between gap-3 border-b border-rule py-1">
            <span>
              {c(`gas.${price.gasId}` as 'gas.oxygen')} {price.sizeName}{' '}
              <span className="type-small text-ink-2">
                {t('since', {
                  day: formatDate(new Date(`${price.validFrom}T00:00:00Z`), { timeZone: 'UTC' }),
                })}
              </span>
            </span>
            <b className="tabular-nums">{money(price.fillMinor)}</b>
          </li>
        ))}
      </ul>
      {supplier.prices.length === 0 ? <p className="type-note">{t('noPrices')}</p> : null}
      {mayWrite ? (
        <div className="desk:max-w-[480px]">
          <More words={t('agree', { site: at.siteName })}>
            <AgreementForm at={at} supplier={supplier} />
          </More>
          <More words={t('price')}>
            <PriceForm at={at} supplier={supplier} />
          </More>
          <More words={t('change', { name: supplier.name })}>
            <SupplierForm at={at} supplier={supplier} />
          </More>
        </div>
      ) : null}
    </section>
  )
}

function Agreed({ supplier, at }: Readonly<{ supplier: SupplierRow; at: SupplierAt }>) {
  const t = useTranslations('suppliers')
  const p = useTranslations('places')
  const { agreement } = supplier
  if (!agreement) return <p className="type-note">{t('noAgreement', { site: at.siteName })}</p>
  const days = agreement.deliveryDays.map((day) => p(`weekdays.${String(day) as '1'}`)).join(', ')
  const money = (minor: number) => formatMoney(minor, at.currency)
  return (
    <p className="type-note py-1">
      {t('agreed', {
        site: at.siteName,
        day: formatDate(agreement.validFrom, { timeZone: 'UTC' }),
        lead: agreement.leadDays,
        fee: money(agreement.deliveryFeeMinor),
      })}{' '}
      {days === '' ? t('siteDays') : t('days', { days })}{' '}
      {t('orders', { least: agreement.leastCylinders, most: agreement.mostCylinders ?? 0 })}{' '}
      {agreement.breaks
        .map((one) => t('break', { from: one.from, off: money(one.offMinor) }))
        .join(' ')}
    </p>
  )
}

function More({ words, children }: Readonly<{ words: string; children: ReactNode }>) {
  return (
    <details className="fold">
      <summary>{words}</summary>
      <div className="pt-2">{children}</div>
    </details>
  )
}
