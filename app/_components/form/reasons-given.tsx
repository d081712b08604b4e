'use client'

import { useTranslations } from 'next-intl'
import type { ActionFailure } from '@/lib/action-result'
import { RefusalList } from '../refusal-list'
import { onceEach, useReasonWords } from './reason-words'

/** What a form was refused for: every reason at once, counted. */
export function ReasonsGiven({
  failure,
  title,
}: Readonly<{ failure: ActionFailure; title?: string | undefined }>) {
  const t = useTranslations('kit.refusal')
  const words = useReasonWords()
  const wrongFields = Object.keys(failure.fieldErrors).length
  if (failure.code === 'INVALID_INPUT' && failure.reasons.length === 0) {
    const ofForm = failure.fieldErrors.form
    return (
      <p className="form-refused" role="alert">
        {ofForm
          ? ofForm.map((reason) => words(reason).what).join(' ')
          : t('fields', { count: wrongFields })}
      </p>
    )
  }
  const reasons =
    failure.reasons.length > 0 ? failure.reasons : [{ code: failure.code, params: failure.params }]
  return (
    <RefusalList
      title={title ?? t('title')}
      reasons={onceEach(reasons.map(words)).map((said) => ({
        id: `${said.what} ${said.cure ?? ''}`,
        ...said,
      }))}
    />
  )
}
