'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { seeNoticeAction } from './actions'

export function SeenForm({ noticeId }: Readonly<{ noticeId: string }>) {
  const t = useTranslations('today')
  return (
    <KeptForm id={`seen-${noticeId}`} action={seeNoticeAction} className="shrink-0">
      <input type="hidden" name="noticeId" value={noticeId} />
      <SubmitButton kind="plain" isWide={false}>
        {t('seen')}
      </SubmitButton>
    </KeptForm>
  )
}
