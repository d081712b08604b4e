'use client'

import { useTranslations } from 'next-intl'
import type { ReactNode } from 'react'
import { useId, useRef, useState } from 'react'
import { FieldError } from './field-error'
import { useFieldErrors } from './kept-form'
import type { FieldUnit } from './typed-number'
import { convertTyped, parseTyped } from './typed-number'

type FieldWithUnitProps = Readonly<{
  /** The typed number goes out as `name`, its unit as `name` + "Unit". */
  name: string
  label: ReactNode
  /** The first is what this person reads; tapping the unit goes to the next and converts. */
  units: readonly [FieldUnit, ...FieldUnit[]]
  defaultValue?: string
  /** Said at once under the number: "= 86 ft³ (80–92) at 61 °F"; null when it says nothing yet. */
  meaning?: (typed: Readonly<{ value: number; unit: FieldUnit['unit'] }>) => ReactNode
  note?: ReactNode
  errorWords?: Readonly<Record<string, string>>
  /** At the left of the box, as "Pipe lagging, east wall". */
  side?: ReactNode
}>

/** A number and its unit. Empty is empty, never 0. */
export function FieldWithUnit({
  name,
  label,
  units,
  defaultValue = '',
  meaning,
  note,
  errorWords,
  side,
}: FieldWithUnitProps) {
  const t = useTranslations('kit.field')
  const id = useId()
  const input = useRef<HTMLInputElement>(null)
  const [unitIndex, setUnitIndex] = useState(0)
  const [text, setText] = useState(defaultValue)
  const errors = useFieldErrors(name)
  const unit = units[unitIndex] ?? units[0]
  const value = parseTyped(text)

  const nextUnit = () => {
    const next = (unitIndex + 1) % units.length
    const to = units[next] ?? units[0]
    setUnitIndex(next)
    if (value !== null) setText(convertTyped({ value, from: unit.unit, to: to.unit }))
    input.current?.focus()
  }
  const said = value === null ? null : meaning?.({ value, unit: unit.unit })
  return (
    <div className={`field ${errors.length > 0 ? 'field-wrong' : ''}`}>
      <label className="field-label" htmlFor={id}>
        {label}
      </label>
      <div className="field-box">
        {side ? <span className="field-side">{side}</span> : null}
        <input
          ref={input}
          id={id}
          name={name}
          value={text}
          onChange={(event) => setText(event.target.value)}
          className="field-number"
          inputMode="decimal"
          autoComplete="off"
          aria-invalid={errors.length > 0 || undefined}
          aria-describedby={`${id}-unit ${id}-said ${id}-error`}
        />
        <input type="hidden" name={`${name}Unit`} value={unit.unit} />
        {units.length > 1 ? (
          <button
            type="button"
            id={`${id}-unit`}
            className="field-unit"
            onClick={nextUnit}
            aria-label={t('changeUnit', { unit: unit.label })}
          >
            {unit.label}
          </button>
        ) : (
          <span id={`${id}-unit`} className="field-unit">
            {unit.label}
          </span>
        )}
      </div>
      <FieldError id={`${id}-error`} errors={errors} words={errorWords} />
      <p className="field-note" id={`${id}-said`}>
        {said ?? note}
      </p>
    </div>
  )
}
