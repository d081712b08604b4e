'use client'

import { useTranslations } from 'next-intl'
import { useId } from 'react'
import { SelectField } from '@/app/_components/form/text-field'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import { CODE_FIELD, UNSCANNED_FIELD } from './send-round'

const WHYS = ['gone', 'unreadable', 'reach', 'camera'] as const

type PostCodeProps = Readonly<{
  post: string
  code: string
  /** The post at which the code that stands in the box hangs; null: of none here. */
  isOf: string | null
  why: string
  onCode: (code: string) => void
  onWhy: (why: string) => void
}>

/** The code that hangs at a post, as it was scanned or is typed; or why there is none to scan. */
export function PostCode({ post, code, isOf, why, onCode, onWhy }: PostCodeProps) {
  const t = useTranslations('watch.code')
  const id = useId()
  const isHere = isOf === post
  const isWrong = code.trim() !== '' && !isHere
  return (
    <div className="mb-4 grid gap-3">
      <div className="field">
        <label className="field-label" htmlFor={id}>
          {t('label')}
        </label>
        <div className="field-box">
          <input
            id={id}
            name={`${CODE_FIELD}${post}`}
            className="type-ident uppercase"
            autoComplete="off"
            autoCapitalize="characters"
            maxLength={60}
            value={code}
            onChange={(event) => onCode(event.target.value)}
            aria-invalid={isWrong || undefined}
            aria-describedby={`${id}-said`}
          />
        </div>
        <p id={`${id}-said`} role="status" className="type-note mt-1 flex items-center gap-2">
          {isHere ? <AnswerMark name="done" /> : null}
          {isHere
            ? t('here')
            : isWrong
              ? t(isOf ? 'other' : 'none', { post: isOf ?? '' })
              : t('how')}
        </p>
      </div>
      {isHere ? null : (
        <details className="fold" open={why !== '' || undefined}>
          <summary className="field-label">{t('why')}</summary>
          <div className="pt-3">
            <SelectField
              name={`${UNSCANNED_FIELD}${post}`}
              label={t('because')}
              emptyLabel={t('noWhy')}
              defaultValue={why}
              options={WHYS.map((one) => ({ value: t(`whys.${one}`), label: t(`whys.${one}`) }))}
              onChosen={onWhy}
              {...(why ? { note: t('unproven') } : {})}
            />
          </div>
        </details>
      )}
    </div>
  )
}
