'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { TextField } from '@/app/_components/form/text-field'
import { PermitFields } from '../permit-fields'
import { leaveWatchAction } from './actions'

/** Off the watch without relief. It says first what that does. */
export function LeaveForm({
  permitId,
  version,
  personId,
}: Readonly<{ permitId: string; version: number; personId: string }>) {
  const t = useTranslations('watch')
  return (
    <details>
      <summary className="text-link inline-block list-none py-1">{t('leave')}</summary>
      <KeptForm
        id={`leave-${permitId}`}
        action={leaveWatchAction}
        refusedTitle={t('refused')}
        className="grid gap-2 py-2"
      >
        <PermitFields permitId={permitId} version={version} />
        <input type="hidden" name="personId" value={personId} />
        <p className="type-note text-ink-2">{t('leaveNote')}</p>
        <p>
          <a className="text-link" href={`/permits/${permitId}/hand-over`}>
            {t('leaveToOther')}
          </a>
        </p>
        <TextField name="why" label={t('leaveWhy')} maxLength={300} />
        <SubmitButton kind="plain">{t('leaveNow')}</SubmitButton>
      </KeptForm>
    </details>
  )
}
