'use client'

import type { HTMLInputAutoCompleteAttribute, ReactNode } from 'react'
import { useId } from 'react'
import { FieldError } from './field-error'
import { useFieldErrors } from './kept-form'

interface FieldProps {
  name: string
  label: ReactNode
  note?: ReactNode
  /** Words of this field's own for a code. */
  errorWords?: Readonly<Record<string, string>>
  defaultValue?: string
  isRequired?: boolean
}

type TextFieldProps = Readonly<
  FieldProps & {
    type?: 'text' | 'email' | 'password' | 'search' | 'tel' | 'date' | 'time' | 'datetime-local'
    inputMode?: 'text' | 'numeric' | 'decimal' | 'tel' | 'email'
    autoComplete?: HTMLInputAutoCompleteAttribute
    /** More than one: a text area. */
    rows?: number
    /** Serials and codes, so that 0 and O differ. */
    isIdentity?: boolean
    maxLength?: number
  }
>

/** Ids and aria that a labelled control needs, and its frame. */
function useField(name: string, note: ReactNode) {
  const id = useId()
  const errors = useFieldErrors(name)
  const isWrong = errors.length > 0
  const describedBy =
    [isWrong ? `${id}-error` : '', note ? `${id}-note` : ''].filter(Boolean).join(' ') || undefined
  return {
    id,
    errors,
    isWrong,
    aria: { id, 'aria-invalid': isWrong || undefined, 'aria-describedby': describedBy },
  }
}

function Framed({
  field,
  label,
  note,
  errorWords,
  children,
}: Readonly<
  {
    field: ReturnType<typeof useField>
    children: ReactNode
  } & Pick<FieldProps, 'label' | 'note' | 'errorWords'>
>) {
  return (
    <div className={`field ${field.isWrong ? 'field-wrong' : ''}`}>
      <label className="field-label" htmlFor={field.id}>
        {label}
      </label>
      <div className="field-box">{children}</div>
      <FieldError id={`${field.id}-error`} errors={field.errors} words={errorWords} />
      {note ? (
        <p className="field-note" id={`${field.id}-note`}>
          {note}
        </p>
      ) : null}
    </div>
  )
}

export function TextField({
  name,
  label,
  note,
  errorWords,
  defaultValue,
  isRequired,
  rows = 1,
  isIdentity = false,
  ...rest
}: TextFieldProps) {
  const field = useField(name, note)
  const shared = {
    ...field.aria,
    name,
    defaultValue,
    required: isRequired,
    className: isIdentity ? 'type-ident' : undefined,
  }
  return (
    <Framed field={field} label={label} note={note} {...(errorWords ? { errorWords } : {})}>
      {rows > 1 ? (
        <textarea {...shared} rows={rows} maxLength={rest.maxLength} />
      ) : (
        <input {...shared} type="text" {...rest} />
      )}
    </Framed>
  )
}

export interface SelectOption {
  readonly value: string
  readonly label: string
  /** Not offered now; what was chosen before still finds it. */
  readonly isOff?: boolean
}

type SelectFieldProps = Readonly<
  FieldProps & {
    options: readonly SelectOption[]
    /** The empty choice; without it, the first option is chosen. */
    emptyLabel?: string
    onChosen?: (value: string) => void
  }
>

export function SelectField({
  name,
  label,
  note,
  errorWords,
  defaultValue,
  isRequired,
  options,
  emptyLabel,
  onChosen,
}: SelectFieldProps) {
  const field = useField(name, note)
  return (
    <Framed field={field} label={label} note={note} {...(errorWords ? { errorWords } : {})}>
      <select
        {...field.aria}
        name={name}
        defaultValue={defaultValue}
        required={isRequired}
        onChange={(event) => onChosen?.(event.target.value)}
      >
        {emptyLabel === undefined ? null : <option value="">{emptyLabel}</option>}
        {options.map((option) => (
          <option
            key={option.value}
            value={option.value}
            disabled={option.isOff}
            hidden={option.isOff}
          >
            {option.label}
          </option>
        ))}
      </select>
    </Framed>
  )
}

/** A signing PIN: numbers only, never remembered by the browser or kept by the form. */
export function PinField({
  name = 'pin',
  label,
  note,
  errorWords,
  isRequired = true,
}: Readonly<Pick<FieldProps, 'label' | 'note' | 'errorWords' | 'isRequired'> & { name?: string }>) {
  const field = useField(name, note)
  return (
    <Framed field={field} label={label} note={note} {...(errorWords ? { errorWords } : {})}>
      <input
        {...field.aria}
        name={name}
        type="password"
        inputMode="numeric"
        autoComplete="off"
        maxLength={12}
        required={isRequired}
        className="field-pin"
        data-1p-ignore=""
      />
    </Framed>
  )
}
