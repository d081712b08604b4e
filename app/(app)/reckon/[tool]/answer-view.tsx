'use client'

import { useTranslations } from 'next-intl'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { NumberParts } from '@/app/_components/number-parts'
import { Opening, OpeningNumber, OpeningPanel } from '@/app/_components/opening'
import { isGasCode } from '@/lib/calc/gas-data'
import { gasM3FromKg } from '@/lib/calc/units'
import { aboutDurationParts, formatAboutDuration } from '@/lib/format/duration'
import { formatNumber } from '@/lib/format/numbers'
import { formatQuantity, formatQuantityInterval } from '@/lib/format/quantity'
import type { ReckonUnits } from '@/lib/schemas/reckon'
import type { Answer, Fact, Figure } from '../reckon'
import { DurationBar } from './duration-bar'
import { FigureTerms } from './figure-terms'

type Units = Readonly<{ units: ReckonUnits }>

/** What the boxes come to: numbers that open, verdicts with their rule, or every refusal. */
export function AnswerView({ answer, units }: Readonly<{ answer: Answer; units: ReckonUnits }>) {
  const t = useTranslations()
  if (!answer.ok)
    return (
      <ul>
        {answer.refusals.map((refusal) => {
          const words = `calcWords.refusal.${refusal.code}` as 'calcWords.refusal.OUT_OF_RANGE'
          return (
            <li
              key={`${refusal.code} ${refusal.field}`}
              className="trouble type-body font-semibold"
            >
              <AnswerMark name="refused" />
              <span>
                {t.has(words) ? t(words) : t('reckon.refused')}{' '}
                {(refusal.instead ?? [])
                  .map((code) => `calcWords.instead.${code}` as 'calcWords.instead.lessFlow')
                  .filter((key) => t.has(key) && key !== ('calcWords.instead.widerBore' as string))
                  .map((key) => t(key))
                  .join(' ')}
              </span>
            </li>
          )
        })}
      </ul>
    )
  return (
    <>
      {answer.facts.map((fact) => (
        <FactLine key={`${fact.code} ${fact.citation ?? ''}`} fact={fact} />
      ))}
      {answer.figures.map((figure) => (
        <FigureLine key={figure.code} figure={figure} units={units} />
      ))}
    </>
  )
}

function FactLine({ fact }: Readonly<{ fact: Fact }>) {
  const t = useTranslations()
  const verdict = `calcWords.verdict.${fact.code}` as 'calcWords.verdict.outOfService'
  const own = `reckon.fact.${fact.code}` as 'reckon.fact.isTrade'
  const { citation } = fact
  return (
    <p
      className={`flex items-start gap-2 py-1 type-body ${fact.isTrouble ? 'font-semibold text-heat' : ''}`}
    >
      <AnswerMark name={fact.isTrouble ? 'refused' : 'done'} />
      <span>
        {t.has(verdict) ? t(verdict) : t(own, fact.params ?? {})}
        {citation ? <small className="block type-small text-ink-2">{citation}</small> : null}
      </span>
    </p>
  )
}

function FigureLine({ figure, units }: Readonly<{ figure: Figure }> & Units) {
  const t = useTranslations('reckon')
  const shown = shownOf(figure, units)
  const name = t(`figure.${figure.code}` as 'figure.contents')
  return (
    <Opening>
      <div className="border-t border-rule py-2">
        <p className="type-note text-ink-2">{name}</p>
        <OpeningNumber spoken={t('spoken', { name, amount: shown.spoken })}>
          <NumberParts size="total" parts={shown.parts} />
        </OpeningNumber>
        {shown.interval ? (
          <p className="type-small text-ink-2">{t('nineInTen', { interval: shown.interval })}</p>
        ) : null}
        {figure.kind === 'duration' && figure.low !== null && figure.high !== null ? (
          <DurationBar middleS={figure.value} lowS={figure.low} highS={figure.high} />
        ) : null}
        <OpeningPanel>
          <FigureTerms figure={figure} />
        </OpeningPanel>
      </div>
    </Opening>
  )
}

type Shown = Readonly<{
  parts: Parameters<typeof NumberParts>[0]['parts']
  interval: string | null
  spoken: string
}>

/** A figure as this person reads it: gas as a volume where its density is known. */
function shownOf({ kind, gas, value, low, high }: Figure, units: ReckonUnits): Shown {
  if (kind === 'count')
    return {
      parts: [{ value: formatNumber(value) }],
      interval:
        low === null || high === null || low === high
          ? null
          : `${formatNumber(low)}–${formatNumber(high)}`,
      spoken: formatNumber(value),
    }
  if (kind === 'duration')
    return {
      parts: aboutDurationParts(value * 1000),
      interval:
        low === null || high === null
          ? null
          : `${formatAboutDuration(low * 1000)}–${formatAboutDuration(high * 1000)}`,
      spoken: formatAboutDuration(value * 1000),
    }
  const isVolume = kind === 'gas' && (isGasCode(gas) || gas === 'nitrogen' || gas === 'argon')
  const base = (kg: number) => (isVolume ? gasM3FromKg(gas, kg) : kg)
  const as = kind === 'gas' ? (isVolume ? 'gasVolume' : 'smallMass') : kind
  if (low === null || high === null) {
    const one = formatQuantity(as, base(value), { units })
    return { parts: [one], interval: null, spoken: `${one.value} ${one.unit}` }
  }
  const found = formatQuantityInterval(
    as,
    { value: base(value), low: base(low), high: base(high) },
    { units },
  )
  return {
    parts: [{ value: found.value, unit: found.unit }],
    interval: `${found.interval} ${found.unit}`,
    spoken: `${found.value} ${found.unit}`,
  }
}
