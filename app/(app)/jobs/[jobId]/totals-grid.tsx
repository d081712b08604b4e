import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'
import { NumberParts } from '@/app/_components/number-parts'
import { Opening, OpeningNumber, OpeningPanel } from '@/app/_components/opening'
import { TermsTable } from '@/app/_components/terms-table'
import type { GasAmount } from '@/lib/calc/estimate-types'
import type { Source } from '@/lib/calc/source'
import type { CrewUsed } from '@/lib/data/crew-factors'
import { aboutDurationParts, formatAboutDuration } from '@/lib/format/duration'
import { formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import { gasAmount, gasFigure, withUnit } from '../figures'
import { useCrewWords } from './crew-words'
import type { JudgedIn } from './judged-in'
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
  /** The shop's own chart, where the estimate goes by one. */
  table: Readonly<{ title: string; source: string }> | null
  crew: CrewUsed | null
  judged: readonly JudgedIn[]
  fuel: string
  prefs: FormatPrefs
}>

/** Oxygen, fuel and flame, each opening to its terms. */
export function TotalsGrid({ result, table, crew, judged, fuel, prefs }: TotalsGridProps) {
  const t = useTranslations('jobs')
  return (
    <div className="grid grid-cols-3 gap-x-3 px-4 pt-1 desk:px-0">
      <Opening>
        <GasTotal
          name={t('gas.oxygen')}
          gas="oxygen"
          amount={result.oxygen}
          {...{ table, crew, judged, prefs }}
        />
      </Opening>
      <Opening>
        <GasTotal
          name={t(`gas.${fuel}` as 'gas.propane')}
          gas={fuel}
          amount={result.fuelGas}
          {...{ table, crew, judged, prefs }}
        />
      </Opening>
      <Opening>
        <TimeTotal time={result.time} crew={crew} judged={judged} />
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

/** What the table alone says of a term, and a last line with what the crew's record adds to their sum. */
function useCrewLine(crew: CrewUsed | null) {
  const t = useTranslations('jobs')
  const crewWords = useCrewWords()
  const factor = crew?.mean ?? 1
  return {
    byTable: (value: number) => value / factor,
    crewTerms: (sum: number, say: (value: number) => string) =>
      crew
        ? [
            {
              name: t('crewLine'),
              inputs: `× ${formatNumber(factor, 2)}: ${crewWords(crew)}`,
              value: say(sum - sum / factor),
            },
          ]
        : [],
    crewNote: crew ? t('crewWidens') : t('crewNone'),
  }
}

/** Judged multipliers that are in the lines above, one line each. */
function useJudgedLines(judged: readonly JudgedIn[]) {
  const t = useTranslations('jobs')
  return judged.map(({ code, multiplier, isChanged }) => ({
    name:
      code === 'horizontal' || code === 'vertical' || code === 'overhead'
        ? t(`position.${code}`)
        : t(`condition.${code}`),
    inputs: t(isChanged ? 'judgedAboveChanged' : 'judgedAbove', {
      factor: formatNumber(multiplier, 2),
    }),
    value: '',
  }))
}

type GasTotalProps = Pick<TotalsGridProps, 'table' | 'crew' | 'judged' | 'prefs'> &
  Readonly<{ name: string; gas: string; amount: ShownGas }>

function GasTotal({ name, gas, amount, table, crew, judged, prefs }: GasTotalProps) {
  const t = useTranslations('jobs')
  const judgedLines = useJudgedLines(judged)
  const { byTable, crewTerms, crewNote } = useCrewLine(crew)
  const figure = gasFigure(
    gas,
    { meanKg: amount.mean, low90Kg: amount.low90, high90Kg: amount.high90 },
    prefs,
  )
  const interval = `${figure.interval}\u00a0${figure.unit}`
  const terms = TERMS.filter((code) => amount.terms[code] > 0).map((code) => ({
    name: t(`terms.${code}`),
    inputs: t(`termOfJob.${code}`),
    value: gasAmount(gas, byTable(amount.terms[code]), prefs).value,
  }))
  const sumKg = TERMS.reduce((sum, code) => sum + amount.terms[code], 0)
  const crewLine = crewTerms(sumKg, (kg) => gasAmount(gas, kg, prefs).value)
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
          terms={[...terms, ...judgedLines, ...crewLine]}
          total={{ interval: figure.interval, value: figure.value }}
          source={
            <>
              <SourceWords source={amount.source} table={table} /> {crewNote}
            </>
          }
        />
      }
    />
  )
}

function TimeTotal({
  time,
  crew,
  judged,
}: Pick<TotalsGridProps, 'crew' | 'judged'> & Readonly<{ time: ShownTotals['time'] }>) {
  const t = useTranslations('jobs')
  const judgedLines = useJudgedLines(judged)
  const { byTable, crewTerms } = useCrewLine(crew)
  const torchMs = time.torchS * 1000
  const words = (seconds: number) => formatAboutDuration(seconds * 1000)
  const rows = [
    { name: t('times.cutting'), inputs: t('timeOf.cutting'), value: words(byTable(time.cuttingS)) },
    { name: t('times.start'), inputs: t('timeOf.start'), value: words(byTable(time.startS)) },
    { name: t('times.idle'), inputs: t('timeOf.idle'), value: words(byTable(time.idleS)) },
    {
      name: t('times.lightUp'),
      inputs: t('timeOf.lightUp', { count: time.lightUps }),
      value: words(byTable(time.lightUpS)),
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
          terms={[...rows, ...judgedLines, ...crewTerms(time.torchS, words)]}
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
