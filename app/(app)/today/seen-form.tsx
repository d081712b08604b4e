'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { seeNoticeAction } from './actions'

export function SeenForm({
  noticeId,
  onSeen,
}: Readonly<{ noticeId: string; onSeen?: () => void }>) {
  const t = useTranslations('today')
  return (
    <KeptForm
      id={`seen-${noticeId}`}
      action={seeNoticeAction}
      {...(onSeen ? { onDone: onSeen } : {})}
      className="shrink-0"
    >
      <input type="hidden" name="noticeId" value={noticeId} />
      <SubmitButton kind="plain" isWide={false}>
        {t('seen')}
      </SubmitButton>
    </KeptForm>
  )
}
