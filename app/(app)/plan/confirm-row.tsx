'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import type { PlanRow } from '@/lib/data/plan/plan'
import { confirmOrderAction } from '../orders/actions'

/** Confirms one order as it stands; from then on it is fixed, and the plan is made around it. */
export function ConfirmRow({ row }: Readonly<{ row: PlanRow }>) {
  const t = useTranslations('plan')
  const router = useRouter()
  return (
    <KeptForm
      id={`plan-${row.key}`}
      action={confirmOrderAction}
      refusedTitle={t('notOrdered')}
      onDone={() => router.refresh()}
    >
      <input type="hidden" name="siteId" value={row.siteId} />
      <input type="hidden" name="supplierId" value={row.supplierId ?? ''} />
      <input type="hidden" name="dueOn" value={row.date} />
      {row.lines.map((line) => (
        <span key={line.sizeId}>
          <input type="hidden" name="sizeId" value={line.sizeId} />
          <input type="hidden" name="quantity" value={line.quantity} />
        </span>
      ))}
      <SubmitButton kind="plain" isWide={false}>
        {t('confirm', { supplier: row.fromName ?? '', site: row.siteName })}
      </SubmitButton>
    </KeptForm>
  )
}
