import { useTranslations } from 'next-intl'
import { HOSE_BORES } from '@/lib/calc/tables/hoses'
import { UNITS } from '@/lib/calc/units'
import type { SetUpGas } from '@/lib/data/set-up'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity, formatQuantityInterval } from '@/lib/format/quantity'
import { withUnit } from '../../figures'
import { thicknessWords } from '../thickness-words'

type RegulatorProps = Readonly<{ side: SetUpGas; prefs: FormatPrefs }>

/** What to set on one regulator, and what that rests on: the tip's pressure and the hose's loss. */
export function RegulatorPart({ side, prefs }: RegulatorProps) {
  const [t, jobs] = [useTranslations('card'), useTranslations('jobs')]
  return (
    <section>
      <h2>{t('regulator', { gas: jobs(`gas.${side.gas}` as 'gas.propane') })}</h2>
      <Setting side={side} prefs={prefs} />
      <p>{wantedWords(side, prefs, t)}</p>
      <p>{hoseWords(side, prefs, t)}</p>
    </section>
  )
}

type Translate = ReturnType<typeof useTranslations<'card'>>

function Setting({ side, prefs }: RegulatorProps) {
  const t = useTranslations('card')
  const { setting, ends } = side
  if (!setting) return <p className="card-setting">{t('byMaker')}</p>
  if (!setting.ok) {
    const refusal = setting.refusals[0]
    return (
      <p className="card-refused">
        {t(refusal?.code === 'ACETYLENE_ABOVE_15_PSIG' ? 'tooMuchAcetylene' : 'hoseTooLong')}
      </p>
    )
  }
  const { mean: value, low90, high90 } = setting.regulatorGaugePressureKpa
  const [low, high] = [ends?.lowGaugeKpa ?? low90, ends?.highGaugeKpa ?? high90]
  const figure = formatQuantityInterval('gaugePressure', { value, low, high }, prefs)
  return (
    <p className="card-setting">
      <b>{t('about', { amount: withUnit(figure) })}</b>{' '}
      <span>{t('between', { interval: `${figure.interval} ${figure.unit}` })}</span>
    </p>
  )
}

function wantedWords({ wanted }: SetUpGas, prefs: FormatPrefs, t: Translate): string {
  if (!wanted) return t('notKnown')
  const [low, high] = [wanted.lowGaugeKpa, wanted.highGaugeKpa].map((kpa) =>
    formatQuantity('gaugePressure', kpa, prefs),
  )
  const interval =
    low && high && low.value !== high.value
      ? `${low.value}–${withUnit(high)}`
      : low
        ? withUnit(low)
        : ''
  return t(wanted.provenance === 'entered' ? 'wantedOwn' : 'wantedPractice', { interval })
}

function hoseWords({ hose, setting }: SetUpGas, prefs: FormatPrefs, t: Translate): string {
  if (!hose?.lengthM) return t('noHose')
  const bore = hose.bore ? HOSE_BORES[hose.bore].boreIn * UNITS.in.toBase : hose.boreM
  const words = t('hose', {
    length: withUnit(formatQuantity('length', hose.lengthM, prefs)),
    bore: bore === null ? '' : thicknessWords(bore, prefs),
    grade: hose.grade ?? t('gradeUnknown'),
  })
  if (!setting?.ok) return words
  const loss = setting.hoseLossKpa
  const figure = formatQuantityInterval(
    'gaugePressure',
    { value: loss.mean, low: loss.low90, high: loss.high90 },
    prefs,
  )
  return `${words} ${t('loss', { loss: withUnit(figure), interval: figure.interval })}`
}
