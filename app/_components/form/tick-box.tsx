'use client'

import type { ReactNode } from 'react'
import { useId } from 'react'
import { FieldError } from './field-error'
import { useFieldErrors } from './kept-form'

/** Something that was done, said by ticking it; never ticked beforehand. */
export function TickBox({
  name,
  value = 'yes',
  children,
}: Readonly<{ name: string; value?: string; children: ReactNode }>) {
  const id = useId()
  const errors = useFieldErrors(name)
  return (
    <div>
      <label htmlFor={id} className="flex min-h-12 cursor-pointer items-center gap-3 py-1">
        <input
          id={id}
          type="checkbox"
          name={name}
          value={value}
          aria-invalid={errors.length > 0 || undefined}
          aria-describedby={`${id}-error`}
          className="size-7 shrink-0 accent-[var(--act)] outline-offset-3 aria-[invalid]:outline-2 aria-[invalid]:outline-heat"
        />
        <span>{children}</span>
      </label>
      <FieldError id={`${id}-error`} errors={errors} />
    </div>
  )
}
