'use client'

import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { sendSheetAction } from './actions'

type SendProps = Readonly<{ supplierId: string; name: string; email: string }>

/** Mails a supplier's order sheet, and says to whom it went. */
export function SendSheet({ supplierId, name, email }: SendProps) {
  const t = useTranslations('plan.send')
  const [sent, setSent] = useState<string | null>(null)
  return (
    <KeptForm
      id={`send-${supplierId}`}
      action={sendSheetAction}
      refusedTitle={t('refused')}
      onDone={(data) => setSent(t('sent', { to: data.sentTo, orders: data.orders }))}
    >
      <input type="hidden" name="supplierId" value={supplierId} />
      <SubmitButton kind="plain" isWide={false}>
        {t('mail', { supplier: name, to: email })}
      </SubmitButton>
      <p role="status" className="type-small text-ink-2">
        {sent}
      </p>
    </KeptForm>
  )
}
