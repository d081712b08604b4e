'use client'

import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'
import { useId, useState } from 'react'
import type { AnswerMarkName } from '../marks/answer-mark'
import { AnswerMark } from '../marks/answer-mark'
import { TurnedArrow } from '../marks/icons'
import { FieldError } from './field-error'
import { useFieldErrors } from './kept-form'

export interface AnswerOption {
  readonly value: string
  readonly label: string
  readonly mark?: AnswerMarkName
  /** What this answer brings with it, in heat, with a turned arrow. */
  readonly consequence?: ReactNode
  /** A further question or an explanation, under the consequence. */
  readonly follows?: ReactNode
}

type ThreeWayAnswerProps = Readonly<{
  name: string
  /** The question; hidden where a heading above already asks it. */
  label: ReactNode
  isLabelHidden?: boolean
  options: readonly AnswerOption[]
  defaultValue?: string
  /** 52 high, for the question that follows from an answer. */
  isSmall?: boolean
  onAnswered?: (value: string) => void
}>

/** One strip; the chosen answer is filled and has its mark. It starts empty. */
export function ThreeWayAnswer({
  name,
  label,
  isLabelHidden = false,
  options,
  defaultValue,
  isSmall = false,
  onAnswered,
}: ThreeWayAnswerProps) {
  const t = useTranslations('kit.field')
  const id = useId()
  const [chosen, setChosen] = useState(defaultValue)
  const errors = useFieldErrors(name)
  const answer = options.find((option) => option.value === chosen)
  return (
    <fieldset
      className="answer"
      aria-describedby={`${id}-after ${id}-error`}
      aria-invalid={errors.length > 0 || undefined}
      tabIndex={-1}
    >
      <legend className={isLabelHidden ? 'sr-only' : 'field-label'}>{label}</legend>
      <div className={`answer-strip ${isSmall ? 'answer-strip-small' : ''}`}>
        {options.map((option) => (
          <label key={option.value}>
            <input
              type="radio"
              name={name}
              value={option.value}
              checked={option.value === chosen}
              onChange={() => {
                setChosen(option.value)
                onAnswered?.(option.value)
              }}
            />
            {option.mark ? <AnswerMark name={option.mark} /> : null}
            <span>{option.label}</span>
          </label>
        ))}
      </div>
      <FieldError id={`${id}-error`} errors={errors} words={{ REQUIRED: t('answerIt') }} />
      <div id={`${id}-after`} role="status">
        {answer?.consequence ? (
          <p className="consequence">
            <TurnedArrow />
            <span>{answer.consequence}</span>
          </p>
        ) : null}
      </div>
      {answer?.follows ?? null}
    </fieldset>
  )
}
