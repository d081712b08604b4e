'use client'

import { useTranslations } from 'next-intl'
import type { Reason } from '@/lib/errors'

type FieldErrorProps = Readonly<{
  id: string
  errors: readonly Reason[]
  /** Words of the field's own, such as "Over 2,640 psi. Read the gauge again."; by code. */
  words?: Readonly<Record<string, string>> | undefined
}>

/** One sentence under a field: what is wrong with what was typed, and the limit. */
export function FieldError({ id, errors, words }: FieldErrorProps) {
  const t = useTranslations()
  const first = errors[0]
  if (!first) return null
  const params = (first.params ?? {}) as never
  const keys = [`kit.field.${first.code}`, `reasons.${first.code}.what`]
  const known = keys.find((key) => t.has(key as never))
  const text =
    words?.[first.code] ?? (known ? t(known as never, params) : t('kit.field.NOT_UNDERSTOOD'))
  return (
    <p className="field-error" id={id}>
      {text}
    </p>
  )
}
