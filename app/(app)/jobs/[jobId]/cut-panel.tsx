import Link from 'next/link'
import { useTranslations } from 'next-intl'
import { TermsTable } from '@/app/_components/terms-table'
import type { CutRow } from '@/lib/data/cut-rows'
import type { CutGas, CutOpened } from '@/lib/data/estimates-terms'
import type { JobDetail } from '@/lib/data/jobs'
import { formatAboutDuration } from '@/lib/format/duration'
import { formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { formatQuantity } from '@/lib/format/quantity'
import { gasAmount, gasFigure, withUnit } from '../figures'
import { thicknessWords } from './cut-title'
import { SourceWords } from './source-words'

type Panel = Readonly<{
  cut: CutRow
  job: JobDetail
  opened: CutOpened
  fuel: string
  prefs: FormatPrefs
}>

/** Where the numbers of a cut come from: both gases term by term, then what the torch is set to. */
export function CutPanel({ cut, job, opened, fuel, prefs }: Panel) {
  const t = useTranslations('jobs')
  return (
    <>
      <GasTerms cut={cut} gas="oxygen" amount={opened.oxygen} opened={opened} prefs={prefs} />
      <div className="mt-3">
        <GasTerms cut={cut} gas={fuel} amount={opened.fuel} opened={opened} prefs={prefs} />
      </div>
      <Settings opened={opened} prefs={prefs} />
      {job.mayWrite ? (
        <p className="mt-2">
          <Link
            className="text-link inline-block min-h-6"
            href={`/jobs/${job.id}/cut?cut=${cut.id}`}
          >
            {t('changeCut')}
          </Link>
        </p>
      ) : null}
    </>
  )
}

type Terms = Readonly<{
  cut: CutRow
  gas: string
  amount: CutGas
  opened: CutOpened
  prefs: FormatPrefs
}>

function GasTerms({ cut, gas, amount, opened, prefs }: Terms) {
  const t = useTranslations('jobs')
  const figure = gasFigure(gas, amount, prefs)
  const value = (kg: number) => gasAmount(gas, kg, prefs).value
  const position = amount.position
  const terms = [
    ...amount.terms.map((term) => ({
      name: t(`terms.${term.code}`),
      inputs: termInputs(term.code, gas, opened, prefs, t),
      value: value(term.kg),
    })),
    ...(position
      ? [
          {
            name: t(`position.${cut.position}`),
            inputs: t('multiplier', { factor: formatNumber(position.multiplier, 2) }),
            value: value(position.kg),
          },
        ]
      : []),
  ]
  const name = t(`gas.${gas}` as 'gas.oxygen')
  const floor =
    gas === 'oxygen'
      ? ` ${t('floor', { amount: withUnit(gasAmount(gas, opened.floorKg, prefs)) })}`
      : null
  return (
    <TermsTable
      title={t('termsOfCut', { gas: name, number: cut.ordinal })}
      unit={figure.unit}
      terms={terms}
      total={{ interval: figure.interval, value: figure.value }}
      source={
        <>
          <SourceWords source={amount.source} />
          {floor}
        </>
      }
    />
  )
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
        length: withUnit(formatQuantity('length', settings.lengthM, prefs)),
        speed: withUnit(formatQuantity('speed', settings.speedMPerS, prefs)),
        flow: flow(settings.cuttingOxygenM3PerS),
      }),
    preheat: () =>
      t('inputs.preheat', { time: formatAboutDuration(time.cuttingS * 1000), flow: flow(preheat) }),
    start: () => t('inputs.start', { count: settings.runs }),
    idle: () => t('inputs.idle', { time: formatAboutDuration(time.idleS * 1000) }),
  }
  return inputs[code]()
}

function Settings({ opened, prefs }: Readonly<{ opened: CutOpened; prefs: FormatPrefs }>) {
  const t = useTranslations('jobs')
  const { settings } = opened
  if (!settings) return null
  const path = thicknessWords(settings.pathM, prefs)
  return (
    <p className="mt-2 type-small text-ink-2">
      {t('settings', {
        path,
        speed: withUnit(formatQuantity('speed', settings.speedMPerS, prefs)),
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
