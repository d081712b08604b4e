'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import type { PlanRow } from '@/lib/data/plan/plan'
import { confirmOrderAction } from '../orders/actions'
import { commitSupplyAction } from './actions'

type RowProps = Readonly<{ row: PlanRow }>

/** Confirms one line as it stands; from then on it is fixed, and the plan is made around it. */
export function ConfirmRow({ row }: RowProps) {
  return row.kind === 'order' ? <ConfirmOrder row={row} /> : <ConfirmCommitment row={row} />
}

function ConfirmOrder({ row }: RowProps) {
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
      <Lines row={row} />
      <SubmitButton kind="plain" isWide={false}>
        {t('confirm', { supplier: row.fromName ?? '', site: row.siteName })}
      </SubmitButton>
    </KeptForm>
  )
}

/** A trip starts where it is loaded; a return stands where its empties do. */
function ConfirmCommitment({ row }: RowProps) {
  const t = useTranslations('plan')
  const router = useRouter()
  const isMove = row.kind === 'move'
  return (
    <KeptForm
      id={`plan-${row.key}`}
      action={commitSupplyAction}
      refusedTitle={t('notCommitted')}
      onDone={() => router.refresh()}
    >
      <input type="hidden" name="kind" value={row.kind} />
      <input type="hidden" name="siteId" value={isMove ? (row.fromSiteId ?? '') : row.siteId} />
      <input type="hidden" name="toSiteId" value={isMove ? row.siteId : ''} />
      <input type="hidden" name="withPapers" value={row.truckKg?.papers ? 'yes' : 'no'} />
      <Lines row={row} />
      <SubmitButton kind="plain" isWide={false}>
        {t(isMove ? 'confirmMove' : 'confirmReturn', {
          from: row.fromName ?? '',
          site: row.siteName,
        })}
      </SubmitButton>
    </KeptForm>
  )
}

function Lines({ row }: RowProps) {
  return (
    <>
      <input type="hidden" name="dueOn" value={row.date} />
      {row.lines.map((line) => (
        <span key={line.sizeId}>
          <input type="hidden" name="sizeId" value={line.sizeId} />
          <input type="hidden" name="quantity" value={line.quantity} />
        </span>
      ))}
    </>
  )
}
