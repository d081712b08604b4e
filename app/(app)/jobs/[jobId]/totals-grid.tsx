import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'
import { NumberParts } from '@/app/_components/number-parts'
import { Opening, OpeningNumber, OpeningPanel } from '@/app/_components/opening'
import { TermsTable } from '@/app/_components/terms-table'
import type { GasAmount } from '@/lib/calc/estimate-types'
import type { Source } from '@/lib/calc/source'
import { aboutDurationParts, formatAboutDuration } from '@/lib/format/duration'
import type { FormatPrefs } from '@/lib/format/prefs'
import { gasAmount, gasFigure, withUnit } from '../figures'
import { SourceWords } from './source-words'

type ShownGas = Pick<GasAmount, 'mean' | 'low90' | 'high90' | 'terms' | 'source'>

export type ShownTotals = Readonly<{
  oxygen: ShownGas
  fuelGas: ShownGas
  time: Readonly<{
    cuttingS: number
    startS: number
    idleS: number
    lightUpS: number
    lightUps: number
    torchS: number
    elapsedS: number
    source: Source
  }>
}>

type TotalsGridProps = Readonly<{
  result: ShownTotals
  fuel: string
  prefs: FormatPrefs
}>

/** Oxygen, fuel and flame, each opening to its terms. */
export function TotalsGrid({ result, fuel, prefs }: TotalsGridProps) {
  const t = useTranslations('jobs')
  return (
    <div className="grid grid-cols-3 gap-x-3 px-4 pt-1 desk:px-0">
      <Opening>
        <GasTotal name={t('gas.oxygen')} gas="oxygen" amount={result.oxygen} prefs={prefs} />
      </Opening>
      <Opening>
        <GasTotal
          name={t(`gas.${fuel}` as 'gas.propane')}
          gas={fuel}
          amount={result.fuelGas}
          prefs={prefs}
        />
      </Opening>
      <Opening>
        <TimeTotal time={result.time} />
      </Opening>
    </div>
  )
}

function Total({
  name,
  spoken,
  number,
  note,
  panel,
}: Readonly<{
  name: string
  spoken: string
  number: ReactNode
  note: ReactNode
  panel: ReactNode
}>) {
  return (
    <>
      <div>
        <p className="type-note text-ink-2">{name}</p>
        <OpeningNumber spoken={spoken}>{number}</OpeningNumber>
        <p className="type-small text-ink-2">{note}</p>
      </div>
      <div className="order-1 col-span-3 -mx-4 desk:mx-0">
        <OpeningPanel>{panel}</OpeningPanel>
      </div>
    </>
  )
}

const TERMS = ['cutting', 'preheat', 'start', 'lightUp', 'idle'] as const

function GasTotal({
  name,
  gas,
  amount,
  prefs,
}: Readonly<{ name: string; gas: string; amount: ShownGas; prefs: FormatPrefs }>) {
  const t = useTranslations('jobs')
  const figure = gasFigure(
    gas,
    { meanKg: amount.mean, low90Kg: amount.low90, high90Kg: amount.high90 },
    prefs,
  )
  const interval = `${figure.interval}\u00a0${figure.unit}`
  const terms = TERMS.filter((code) => amount.terms[code] > 0).map((code) => ({
    name: t(`terms.${code}`),
    inputs: t(`termOfJob.${code}`),
    value: gasAmount(gas, amount.terms[code], prefs).value,
  }))
  return (
    <Total
      name={name}
      spoken={t('spokenGas', { gas: name, amount: withUnit(figure) })}
      number={<NumberParts size="total" parts={[figure]} />}
      note={interval}
      panel={
        <TermsTable
          title={t('termsOfList', { gas: name })}
          unit={figure.unit}
          terms={terms}
          total={{ interval: figure.interval, value: figure.value }}
          source={<SourceWords source={amount.source} />}
        />
      }
    />
  )
}

function TimeTotal({ time }: Readonly<{ time: ShownTotals['time'] }>) {
  const t = useTranslations('jobs')
  const torchMs = time.torchS * 1000
  const words = (seconds: number) => formatAboutDuration(seconds * 1000)
  const rows = [
    { name: t('times.cutting'), inputs: t('timeOf.cutting'), value: words(time.cuttingS) },
    { name: t('times.start'), inputs: t('timeOf.start'), value: words(time.startS) },
    { name: t('times.idle'), inputs: t('timeOf.idle'), value: words(time.idleS) },
    {
      name: t('times.lightUp'),
      inputs: t('timeOf.lightUp', { count: time.lightUps }),
      value: words(time.lightUpS),
    },
  ]
  return (
    <Total
      name={t('torchLit')}
      spoken={t('spokenTime', { time: formatAboutDuration(torchMs) })}
      number={<NumberParts size="total" parts={aboutDurationParts(torchMs)} />}
      note={t('onTheJob', { time: words(time.elapsedS) })}
      panel={
        <TermsTable
          title={t('termsOfTime')}
          unit=""
          terms={rows}
          total={{ value: words(time.torchS) }}
          source={
            <>
              {t('timeSource')} <SourceWords source={time.source} />
            </>
          }
        />
      }
    />
  )
}
