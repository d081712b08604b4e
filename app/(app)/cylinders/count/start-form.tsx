'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { startCountAction } from './actions'

export function StartForm({ siteId }: Readonly<{ siteId: string }>) {
  const t = useTranslations('stockCount')
  const router = useRouter()
  return (
    <KeptForm
      id={`count-${siteId}`}
      action={startCountAction}
      refusedTitle={t('refused')}
      onDone={({ countId }) => router.push(`/cylinders/count/${countId}`)}
      className="flex flex-col gap-3 desk:max-w-[420px]"
    >
      <input type="hidden" name="siteId" value={siteId} />
      <SubmitButton>{t('start')}</SubmitButton>
    </KeptForm>
  )
}
