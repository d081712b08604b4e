import { useTranslations } from 'next-intl'
import { TermsTable } from '@/app/_components/terms-table'
import type { CutGas, CutOpened } from '@/lib/calc/opened-cut'
import type { CrewUsed } from '@/lib/data/crew-factors'
import { formatAboutDuration } from '@/lib/format/duration'
import { formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity } from '@/lib/format/quantity'
import { gasAmount, gasFigure, gasTerms, withUnit } from '../figures'
import { useCrewWords } from './crew-words'
import { SourceWords } from './source-words'
import { thicknessWords } from './thickness-words'

type CutTermsProps = Readonly<{
  /** Of the cut in its list. */
  number: number
  opened: CutOpened
  crew: CrewUsed | null
  fuel: string
  prefs: FormatPrefs
}>

/** Where the numbers of a cut come from: both gases term by term, then what the torch is set to. */
export function CutTerms(cut: CutTermsProps) {
  const { opened, fuel, prefs } = cut
  return (
    <>
      <GasTerms {...cut} gas="oxygen" amount={opened.oxygen} />
      <div className="mt-3">
        <GasTerms {...cut} gas={fuel} amount={opened.fuel} />
      </div>
      <Settings opened={opened} prefs={prefs} />
    </>
  )
}

type Terms = CutTermsProps & Readonly<{ gas: string; amount: CutGas }>

function GasTerms({ number, crew, gas, amount, opened, prefs }: Terms) {
  const t = useTranslations('jobs')
  const say = useStepWords(crew)
  const figure = gasFigure(gas, amount, prefs)
  const value = gasTerms(gas, amount.meanKg, prefs)
  const summed = [...amount.terms, ...amount.steps].reduce((sum, term) => sum + term.kg, 0)
  const overKg = amount.meanKg - summed
  const terms = [
    ...amount.terms.map((term) => ({
      name: t(`terms.${term.code}`),
      inputs: termInputs(term.code, gas, opened, prefs, t),
      value: value(term.kg),
    })),
    ...amount.steps.map((step) => ({ ...say(step), value: value(step.kg) })),
    ...(overKg > amount.meanKg * 1e-6
      ? [{ name: t('floorLine'), inputs: t('floorLineInputs'), value: value(overKg) }]
      : []),
  ]
  const name = t(`gas.${gas}` as 'gas.oxygen')
  return (
    <TermsTable
      title={t('termsOfCut', { gas: name, number })}
      unit={figure.unit}
      terms={terms}
      total={{ interval: figure.interval, value: value(amount.meanKg) }}
      source={
        <>
          <SourceWords source={amount.source} table={opened.table} />
          {opened.boundedAt === null
            ? null
            : ` ${t('bounded', { most: formatNumber(opened.boundedAt, 2) })}`}
          {gas === 'oxygen'
            ? ` ${t('floor', { amount: withUnit(gasAmount(gas, opened.floorKg, prefs)) })}`
            : null}
        </>
      }
    />
  )
}

/** What a multiplier is called and how it is known: judgement, or what the crew was seen to use. */
function useStepWords(crew: CrewUsed | null) {
  const t = useTranslations('jobs')
  const crewWords = useCrewWords()
  return ({ code, multiplier, slowsStarts, usual }: CutGas['steps'][number]) => {
    const factor = formatNumber(multiplier, 2)
    if (code === 'crew') return { name: t('crewLine'), inputs: `× ${factor}: ${crewWords(crew)}` }
    if (code === 'purity')
      return {
        name: t('purityLine'),
        inputs: t('purityInputs', { percent: formatNumber(multiplier, 1) }),
      }
    const isPosition = code === 'horizontal' || code === 'vertical' || code === 'overhead'
    return {
      name: isPosition ? t(`position.${code}`) : t(`condition.${code}`),
      inputs:
        usual === null
          ? t(slowsStarts ? 'judgedStarts' : 'judged', { factor })
          : t('judgedChanged', { factor, usual: formatNumber(usual, 2) }),
    }
  }
}

/** What a term was reckoned from, with units. */
function termInputs(
  code: 'cutting' | 'preheat' | 'start' | 'idle',
  gas: string,
  opened: CutOpened,
  prefs: FormatPrefs,
  t: ReturnType<typeof useTranslations<'jobs'>>,
): string {
  const { settings, time } = opened
  if (!settings) return ''
  const flow = (m3PerS: number) => withUnit(formatQuantity('gasFlow', m3PerS, prefs))
  const preheat = gas === 'oxygen' ? settings.preheatOxygenM3PerS : settings.fuelM3PerS
  const inputs = {
    cutting: () =>
      t('inputs.cutting', {
        length: withUnit(
          formatQuantity(settings.isArea ? 'area' : 'length', settings.lengthM, prefs),
        ),
        speed: speedWords(settings, prefs),
        flow: flow(settings.cuttingOxygenM3PerS),
      }),
    preheat: () =>
      t('inputs.preheat', { time: formatAboutDuration(time.cuttingS * 1000), flow: flow(preheat) }),
    start: () => t('inputs.start', { count: settings.runs }),
    idle: () => t('inputs.idle', { time: formatAboutDuration(time.idleS * 1000) }),
  }
  return inputs[code]()
}

const speedWords = (settings: NonNullable<CutOpened['settings']>, prefs: FormatPrefs) =>
  withUnit(formatQuantity(settings.isArea ? 'areaRate' : 'speed', settings.speedMPerS, prefs))

function Settings({ opened, prefs }: Readonly<{ opened: CutOpened; prefs: FormatPrefs }>) {
  const t = useTranslations('jobs')
  const { settings } = opened
  if (!settings) return null
  const path = thicknessWords(settings.pathM, prefs)
  return (
    <p className="mt-2 type-small text-ink-2">
      {t('settings', {
        path,
        speed: speedWords(settings, prefs),
      })}{' '}
      {settings.oxygenPressureGaugeKpa === null
        ? t('noPressure')
        : t('pressure1916', {
            pressure: withUnit(
              formatQuantity('gaugePressure', settings.oxygenPressureGaugeKpa, prefs),
            ),
          })}
    </p>
  )
}
