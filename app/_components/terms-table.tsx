import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'

export interface Term {
  readonly name: string
  /** Inputs with their units: "54 ft × 2.16 ft³/ft". */
  readonly inputs: ReactNode
  readonly value: string
}

type TermsTableProps = Readonly<{
  /** "Oxygen, cut 2". */
  title: string
  unit: string
  terms: readonly Term[]
  total: Readonly<{ interval?: string; value: string }>
  /** Table, source and floor in a sentence or two. */
  source: ReactNode
}>

/** Where a number comes from: one line a term, the total with its 9 in 10, then the source. */
export function TermsTable({ title, unit, terms, total, source }: TermsTableProps) {
  const t = useTranslations('kit.terms')
  return (
    <div className="terms">
      <table>
        <thead>
          <tr>
            <th scope="col" colSpan={2}>
              {title}
            </th>
            <th scope="col">{unit}</th>
          </tr>
        </thead>
        <tbody>
          {terms.map((term) => (
            <tr key={term.name}>
              <th scope="row">{term.name}</th>
              <td>{term.inputs}</td>
              <td>{term.value}</td>
            </tr>
          ))}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row">{t('total')}</th>
            <td>{total.interval ? t('nineInTen', { interval: total.interval }) : null}</td>
            <td>{total.value}</td>
          </tr>
        </tfoot>
      </table>
      <p>{source}</p>
    </div>
  )
}
