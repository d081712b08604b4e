import { useTranslations } from 'next-intl'
import type { Contents } from '@/lib/calc/contents-types'
import { kelvinFromCelsius } from '@/lib/calc/units'
import { formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity, formatTemperature } from '@/lib/format/quantity'
import { SourceWords } from '../../jobs/[jobId]/source-words'
import { gasAmount, gasFigure, withUnit } from '../../jobs/figures'

type Terms = Readonly<{ contents: Contents; gasId: string; prefs: FormatPrefs }>

/** What was read and what is not certain about it, each term with what it adds. */
export function ContentsTerms({ contents, gasId, prefs }: Terms) {
  const t = useTranslations('cylinders')
  const figure = gasFigure(
    gasId,
    { meanKg: contents.gasKg, low90Kg: contents.low90Kg, high90Kg: contents.high90Kg },
    prefs,
  )
  return (
    <div className="terms">
      <table>
        <thead>
          <tr>
            <th scope="col" colSpan={2}>
              {t('fromWhat')}
            </th>
            <th scope="col">{figure.unit}</th>
          </tr>
        </thead>
        <tbody>
          {contents.source.inputs.map((input) => (
            <tr key={input.name}>
              <th scope="row">{label('input', input.name, t)}</th>
              <td colSpan={2}>{inputWords(input, prefs)}</td>
            </tr>
          ))}
          {contents.chain.map((term) => (
            <tr key={term.code}>
              <th scope="row">{label('term', term.code, t)}</th>
              <td>{t(`provenance.${PROVENANCE[term.provenance]}`)}</td>
              <td>± {gasAmount(gasId, term.contribution, prefs).value}</td>
            </tr>
          ))}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row">{t('contents')}</th>
            <td>{t('nineInTenOf', { interval: figure.interval })}</td>
            <td>{figure.value}</td>
          </tr>
        </tfoot>
      </table>
      <p>
        {t('oneSigma')} <SourceWords source={contents.source} />
      </p>
    </div>
  )
}

const PROVENANCE = {
  read: 'read',
  'from memory': 'fromMemory',
  derived: 'derived',
  'common practice': 'commonPractice',
  entered: 'entered',
} as const

function label(
  kind: 'input' | 'term',
  name: string,
  t: ReturnType<typeof useTranslations<'cylinders'>>,
): string {
  const key = `${kind}.${name}` as 'input.temperatureK'
  return t.has(key) ? t(key) : name
}

type Input = Contents['source']['inputs'][number]

function inputWords({ value, unit }: Input, prefs: FormatPrefs): string {
  if (typeof value !== 'number') return value
  if (unit === 'kPa') return withUnit(formatQuantity('gaugePressure', value, prefs))
  if (unit === 'K')
    return withUnit(formatTemperature(value > 0 ? value : kelvinFromCelsius(0), prefs))
  if (unit === 'kg') return withUnit(formatQuantity('smallMass', value, prefs))
  return `${formatNumber(value, 2)}\u00a0${unit === '1' ? '' : unit}`
}
