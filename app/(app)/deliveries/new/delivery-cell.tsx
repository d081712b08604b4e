'use client'

import { useId } from 'react'
import { FieldError } from '@/app/_components/form/field-error'
import { useFieldErrors } from '@/app/_components/form/kept-form'
import type { SizeOption } from './delivery-types'

export const CELLS = [
  'serial',
  'sizeId',
  'filledOn',
  'dueMonth',
  'requalifiedOn',
  'batch',
  'outcome',
] as const
export type CellName = (typeof CELLS)[number]

type DeliveryCellProps = Readonly<{
  index: number
  name: CellName
  label: string
  type?: 'text' | 'date' | 'month'
  options?: readonly SizeOption[]
  values: Readonly<Partial<Record<CellName, string>>>
  placeholder?: string
  isIdentity?: boolean
}>

/** A box of one row. All rows share the names; what is wrong is told by the row's place. */
export function DeliveryCell({
  index,
  name,
  label,
  type = 'text',
  options,
  values,
  placeholder,
  isIdentity = false,
}: DeliveryCellProps) {
  const id = useId()
  const errors = useFieldErrors(`rows.${index}.${name}`)
  const isWrong = errors.length > 0
  const aria = {
    id,
    name,
    'aria-invalid': isWrong || undefined,
    'aria-describedby': isWrong ? `${id}-error` : undefined,
  }
  return (
    <div className={`field min-w-0 ${isWrong ? 'field-wrong' : ''}`}>
      <label className="field-label" htmlFor={id}>
        {label}
      </label>
      <div className="field-box">
        {options ? (
          <select {...aria} defaultValue={values[name]}>
            {options.map((option) => (
              <option key={option.id} value={option.id}>
                {option.words}
              </option>
            ))}
          </select>
        ) : (
          <input
            {...aria}
            type={type}
            defaultValue={values[name]}
            placeholder={placeholder}
            autoComplete="off"
            className={isIdentity ? 'type-ident uppercase' : undefined}
          />
        )}
      </div>
      <FieldError id={`${id}-error`} errors={errors} />
    </div>
  )
}
