'use client'

import { useTranslations } from 'next-intl'
import { decimalsFor, formatNumber } from '@/lib/format/numbers'
import type { Figure } from '../reckon'

const PROVENANCE = {
  read: 'read',
  'from memory': 'fromMemory',
  derived: 'derived',
  'common practice': 'commonPractice',
  entered: 'entered',
} as const

const amount = (value: number, unit: string) =>
  `${formatNumber(value, Math.abs(value) < 0.1 && value !== 0 ? 5 : decimalsFor(value))} ${unit}`.trim()

/** Inputs as the library took them, what each adds to the doubt, then formula and source. */
export function FigureTerms({ figure }: Readonly<{ figure: Figure }>) {
  const [t, words] = [useTranslations('reckon'), useTranslations('calcWords')]
  const { chain, source } = figure
  const nameOf = (code: string) => {
    const key = `input.${code}` as 'input.gauge'
    return words.has(key) ? words(key) : t('otherInput')
  }
  const formula = `formula.${source.formulaCode}` as 'formula.leakRate'
  const own = `formula.${source.formulaCode}` as 'formula.timeToChange'
  const rows = [
    ...source.inputs.map((one) => ({
      key: one.name,
      name: nameOf(one.name),
      value: typeof one.value === 'number' ? amount(one.value, one.unit) : one.value,
      doubt: '',
      how: '',
    })),
    ...chain.map((term) => ({
      key: `doubt ${term.code}`,
      name: t('doubtOf', { name: nameOf(term.code) }),
      value: amount(term.value, term.unit),
      doubt: amount(term.contribution, ''),
      how: words(`provenance.${PROVENANCE[term.provenance]}`),
    })),
  ]
  return (
    <div className="terms">
      {rows.length > 0 ? (
        <table>
          <thead>
            <tr>
              <th scope="col">{t('input')}</th>
              <th scope="col">{t('value')}</th>
              <th scope="col">{chain.length > 0 ? t('doubt') : ''}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.key}>
                <th scope="row">{row.name}</th>
                <td>
                  {row.value} {row.how}
                </td>
                <td>{row.doubt}</td>
              </tr>
            ))}
          </tbody>
        </table>
      ) : null}
      <p>
        {words.has(formula) ? words(formula) : t(own)}{' '}
        {words(`provenance.${PROVENANCE[source.provenance]}`)}
      </p>
    </div>
  )
}
