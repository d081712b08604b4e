'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { cancelOrderAction } from './actions'

export function CancelForm({ orderId, version }: Readonly<{ orderId: string; version: number }>) {
  const t = useTranslations('orders')
  const router = useRouter()
  return (
    <KeptForm
      id={`cancel-${orderId}`}
      action={cancelOrderAction}
      refusedTitle={t('notCancelled')}
      onDone={() => router.refresh()}
    >
      <input type="hidden" name="orderId" value={orderId} />
      <input type="hidden" name="version" value={version} />
      <SubmitButton kind="plain">{t('cancel')}</SubmitButton>
    </KeptForm>
  )
}
