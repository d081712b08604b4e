import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { ButtonLink } from '@/app/_components/controls/button'
import { Column, DataTable, FigureCells } from '@/app/_components/data-table'
import { PlainRow } from '@/app/_components/row'
import type { UnaccountedPage, UnaccountedRow } from '@/lib/data/company-unaccounted'
import { formatAboutMoney, formatInterval, formatNumber } from '@/lib/format/numbers'
import { type Units, volumeOf, volumeUnit } from './audit-view'
import { FileLink } from './file-link'

const MINOR = 100

type UnaccountedProps = Readonly<{
  page: UnaccountedPage
  nextHref: string | null
  units: Units
  csvHref: string
}>

const addressOf = ({ siteId, gas }: UnaccountedRow) =>
  `/audit/balance?${new URLSearchParams({ site: siteId, gas })}`

/** Gas that left the cylinders beyond the work logged, by site and gas, and what it cost. */
export function Unaccounted({ page, nextHref, units, csvHref }: UnaccountedProps) {
  const t = useTranslations('audit.unaccounted')
  const a = useTranslations('audit')
  const { rows: shown, total, currency } = page
  const money = (minor: number) => formatAboutMoney(minor / MINOR, currency)
  const said = ({ gas, unexplained }: UnaccountedRow) => {
    const at = (kg: number) => volumeOf(gas, kg, units)
    const { kg, low90Kg, high90Kg } = unexplained
    const decimals = units === 'us' ? 0 : 1
    return {
      value: formatNumber(at(kg), decimals),
      interval: formatInterval(at(low90Kg), at(high90Kg), decimals),
      isSure: low90Kg > 0,
    }
  }
  if (shown.length === 0)
    return (
      <section className="min-w-0">
        <h2 className="type-section mb-1">{t('title')}</h2>
        <p className="py-2">{t('none')}</p>
      </section>
    )
  return (
    <section className="min-w-0">
      <h2 className="type-section mb-1 max-desk:border-b-2 max-desk:border-ink">{t('title')}</h2>
      <div className="hidden desk:block">
        <DataTable
          caption={t('caption')}
          head={
            <>
              <Column>{t('site')}</Column>
              <Column>{a('gas')}</Column>
              <Column isFigure colSpan={2}>
                {t('beyond', { unit: volumeUnit(units) })}
              </Column>
              <Column isFigure>{t('cost')}</Column>
            </>
          }
        >
          <tbody>
            {shown.map((row) => {
              const { value, interval, isSure } = said(row)
              return (
                <tr key={`${row.siteId} ${row.gas}`}>
                  <td>
                    <Link
                      href={addressOf(row)}
                      className="text-ink underline decoration-cobalt underline-offset-4"
                    >
                      {row.siteName}
                    </Link>
                  </td>
                  <td>{a('gasName', { gas: row.gas })}</td>
                  <FigureCells value={value} interval={interval} isTrouble={isSure} />
                  <td className="is-figure">{row.cost ? money(row.cost.minor) : t('noPrice')}</td>
                </tr>
              )
            })}
          </tbody>
          {total ? (
            <tfoot>
              <tr>
                <th scope="row" colSpan={4} className="font-[650]">
                  {t('total')}
                </th>
                <td className="is-figure">
                  <b>{money(total.minor)}</b>
                </td>
              </tr>
            </tfoot>
          ) : null}
        </DataTable>
      </div>
      <ul className="plain-rows max-desk:-mx-4 desk:hidden">
        {shown.map((row) => {
          const { value, interval } = said(row)
          return (
            <PlainRow
              key={`${row.siteId} ${row.gas}`}
              href={addressOf(row)}
              title={t('rowTitle', {
                site: row.siteName,
                gas: a('gasName', { gas: row.gas }),
              })}
              note={t('rowNote', { value, interval, unit: volumeUnit(units) })}
              aside={row.cost ? money(row.cost.minor) : t('noPrice')}
            />
          )
        })}
      </ul>
      {nextHref ? (
        <p className="py-2">
          <ButtonLink href={nextHref}>{t('more')}</ButtonLink>
        </p>
      ) : null}
      <p className="mt-2 type-small text-ink-2">
        {total
          ? t('totalIs', {
              cost: money(total.minor),
              low: money(total.low90Minor),
              high: money(total.high90Minor),
            })
          : null}{' '}
        {t('method')} <FileLink href={csvHref}>{t('csv')}</FileLink>
      </p>
    </section>
  )
}
