'use client'

import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { FieldError } from '@/app/_components/form/field-error'
import { FieldWithUnit } from '@/app/_components/form/field-with-unit'
import { useFieldErrors } from '@/app/_components/form/kept-form'
import { TextField } from '@/app/_components/form/text-field'
import { ThreeWayAnswer } from '@/app/_components/form/three-way-answer'
import { usePrefs } from '@/app/_components/live/prefs'
import type { AnswerMarkName } from '@/app/_components/marks/answer-mark'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { convert } from '@/lib/calc/units'
import type { ClearanceChoice, ClearanceItem } from '@/lib/data/permits/clearance-view'
import type { SurveyMark } from '@/lib/permit/survey'
import { shownWind, windUnits } from '../wind-units'
import { ConsequenceWords } from './consequence-words'

const MARKS: Readonly<Record<SurveyMark, AnswerMarkName>> = {
  done: 'done',
  not_here: 'not-here',
  protected: 'protected',
  blocked: 'refused',
}
const FEET = { unit: 'ft', label: 'ft' } as const
const METRES = { unit: 'm', label: 'm' } as const

/** One item of the walk: its choices, what the chosen one still has to say, and what it brings. */
export function ItemAnswer({ item }: Readonly<{ item: ClearanceItem }>) {
  const t = useTranslations('clearance.items')
  const [chosen, setChosen] = useState(item.answer?.choice ?? '')
  const choice = item.choices.find((one) => one.id === chosen)
  return (
    <div className="grid gap-3">
      <input type="hidden" name="item" value={item.id} />
      <Choices item={item} chosen={chosen} onChosen={setChosen} label={t(`${item.id}.ask`)} />
      {choice ? <Details item={item} choice={choice} /> : null}
      {choice ? <ConsequenceWords brings={choice.brings} /> : null}
    </div>
  )
}

type ChoicesProps = Readonly<{
  item: ClearanceItem
  chosen: string
  onChosen: (id: string) => void
  label: string
}>

/** Each choice a line of its own: their words are too long for a strip, and gloves are thick. */
function Choices({ item, chosen, onChosen, label }: ChoicesProps) {
  const t = useTranslations('clearance.items')
  const errors = useFieldErrors('choice')
  return (
    <fieldset className="answer" aria-invalid={errors.length > 0 || undefined} tabIndex={-1}>
      <legend className="type-body mb-2">{label}</legend>
      <div className="overflow-clip rounded-control border-2 border-ink focus-within:has-[:focus-visible]:outline-3 focus-within:has-[:focus-visible]:outline-offset-3 focus-within:has-[:focus-visible]:outline-cobalt">
        {item.choices.map((choice) => (
          <label
            key={choice.id}
            className="flex min-h-12 cursor-pointer items-center gap-3 px-3 py-2 font-semibold not-first:border-t-2 not-first:border-ink has-checked:bg-act has-checked:text-paper"
          >
            <input
              type="radio"
              name="choice"
              value={choice.id}
              checked={choice.id === chosen}
              onChange={() => onChosen(choice.id)}
              className="absolute h-px w-px opacity-0"
            />
            <span className={choice.id === chosen ? undefined : 'invisible'}>
              <AnswerMark name={MARKS[choice.mark]} />
            </span>
            <span>{t(`${item.id}.choices.${choice.id}` as 'stores.choices.none')}</span>
          </label>
        ))}
      </div>
      <FieldError id={`choice-${item.id}-error`} errors={errors} />
    </fieldset>
  )
}

function Details({ item, choice }: Readonly<{ item: ClearanceItem; choice: ClearanceChoice }>) {
  const t = useTranslations('clearance')
  const { units } = usePrefs()
  const answer = item.answer?.choice === choice.id ? item.answer : null
  const lengths = units === 'si' ? ([METRES, FEET] as const) : ([FEET, METRES] as const)
  const shown = (feet: number | null | undefined) =>
    feet == null
      ? ''
      : String(Math.round(convert({ value: feet, from: 'ft', to: lengths[0].unit }) * 10) / 10)
  const asksSparks = item.id === 'burnables' && choice.id !== 'neither'
  return (
    <div className="grid gap-3" key={choice.id}>
      {choice.needs.includes('what') ? (
        <TextField
          name="what"
          label={t('details.what')}
          defaultValue={answer?.what ?? ''}
          maxLength={120}
        />
      ) : null}
      {choice.needs.includes('distanceFt') ? (
        <FieldWithUnit
          name="distance"
          label={t('details.distanceFt')}
          units={lengths}
          defaultValue={shown(answer?.distanceFt)}
        />
      ) : null}
      {choice.needs.includes('windMph') ? (
        <FieldWithUnit
          name="wind"
          label={t('details.windMph')}
          units={windUnits(units)}
          defaultValue={shownWind(answer?.windMph ?? null, units)}
        />
      ) : null}
      {choice.needs.includes('cover') ? (
        <ThreeWayAnswer
          name="cover"
          isSmall
          label={t('details.cover')}
          {...(answer?.cover ? { defaultValue: answer.cover } : {})}
          options={[
            { value: 'listed_pad', label: t('covers.listed_pad') },
            { value: 'rigid_cover', label: t('covers.rigid_cover') },
          ]}
        />
      ) : null}
      {asksSparks ? (
        <FieldWithUnit
          name="sparksReach"
          label={t('details.sparksReachFt')}
          units={lengths}
          defaultValue={shown(answer?.sparksReachFt)}
        />
      ) : null}
    </div>
  )
}
