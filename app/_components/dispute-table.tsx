import { useTranslations } from 'next-intl'
import { formatMoney } from '@/lib/format/numbers'
import { Column, DataTable } from './data-table'

export type DisputeRow = Readonly<{
  row: number
  what: string
  askedMinor: number
  /** Null where nothing on record prices it. */
  oursMinor: number | null
  disputeMinor: number
  why: string
}>

type DisputeTableProps = Readonly<{
  caption: string
  whatHead: string
  currency: string
  rows: readonly DisputeRow[]
  sums: Readonly<{ askedMinor: number; oursMinor: number; disputeMinor: number }>
}>

/** What a supplier asks, row by row, beside the record: what to dispute and why. */
export function DisputeTable({ caption, whatHead, currency, rows, sums }: DisputeTableProps) {
  const t = useTranslations('rent')
  const money = (minor: number | null) => (minor === null ? '?' : formatMoney(minor, currency))
  const head = (
    <>
      <Column isFigure>{t('row')}</Column>
      <Column>{whatHead}</Column>
      <Column isFigure>{t('asked')}</Column>
      <Column isFigure>{t('ours')}</Column>
      <Column isFigure>{t('dispute')}</Column>
      <Column>{t('why')}</Column>
    </>
  )
  return (
    <>
      <p role="status" className={sums.disputeMinor > 0 ? 'trouble' : 'type-row-title'}>
        {t('total', {
          asked: money(sums.askedMinor),
          ours: money(sums.oursMinor),
          dispute: money(sums.disputeMinor),
        })}
      </p>
      <div className="overflow-x-auto">
        <DataTable caption={caption} head={head}>
          <tbody>
            {rows.map((row) => (
              <tr key={row.row}>
                <td className="is-figure">{row.row}</td>
                <td className="type-ident">{row.what}</td>
                <td className="is-figure">{money(row.askedMinor)}</td>
                <td className="is-figure">{money(row.oursMinor)}</td>
                <td className="is-figure">{row.disputeMinor > 0 ? money(row.disputeMinor) : ''}</td>
                <td>{row.why}</td>
              </tr>
            ))}
          </tbody>
        </DataTable>
      </div>
    </>
  )
}
