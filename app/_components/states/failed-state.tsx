'use client'

import { useTranslations } from 'next-intl'
import { AnswerMark } from '../marks/answer-mark'

type FailedStateProps = Readonly<{
  onTryAgain: () => void
  /** "Shown as of 13:02." where the last known rows still stand. */
  asOf?: string
  /** To find it in the logs. */
  reference?: string | undefined
}>

export function FailedState({ onTryAgain, asOf, reference }: FailedStateProps) {
  const t = useTranslations('states')
  return (
    <div className="state" role="alert">
      <p className="state-failed">
        <AnswerMark name="refused" />
        <b>{t('didNotLoad')}</b>
      </p>
      <p className="text-ink-2">{asOf ?? t('keptWhatWasTyped')}</p>
      <button type="button" className="state-again" onClick={onTryAgain}>
        {t('tryAgain')}
      </button>
      {reference ? <p className="field-note">{t('reference', { reference })}</p> : null}
    </div>
  )
}
