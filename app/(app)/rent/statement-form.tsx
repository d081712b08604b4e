'use client'

import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { DisputeTable } from '@/app/_components/dispute-table'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import type { CheckedStatement } from '@/lib/data/rent'
import { checkStatementAction } from './actions'

type StatementFormProps = Readonly<{
  siteId: string
  month: string
  suppliers: readonly Readonly<{ value: string; label: string }>[]
}>

/** The supplier's statement, pasted, beside our own record. */
export function StatementForm({ siteId, month, suppliers }: StatementFormProps) {
  const t = useTranslations('rent')
  const [checked, setChecked] = useState<CheckedStatement | null>(null)
  return (
    <>
      <KeptForm
        id={`statement-${siteId}`}
        action={checkStatementAction}
        refusedTitle={t('notChecked')}
        onDone={setChecked}
        className="flex flex-col gap-3 desk:max-w-[480px]"
      >
        <input type="hidden" name="siteId" value={siteId} />
        <input type="hidden" name="month" value={month} />
        <SelectField name="supplierId" label={t('supplier')} options={suppliers} />
        <TextField
          name="statement"
          label={t('statement')}
          note={t('statementNote')}
          rows={8}
          isIdentity
        />
        <SubmitButton kind="plain">{t('check')}</SubmitButton>
      </KeptForm>
      {checked ? <Checked checked={checked} /> : null}
    </>
  )
}

function Checked({ checked }: Readonly<{ checked: CheckedStatement }>) {
  const t = useTranslations('rent')
  const rows = checked.rows.map(({ serial, faults, ...row }) => ({
    ...row,
    what: serial,
    why: faults
      .map((fault) => t(`fault.${fault}`, { asked: row.askedDays ?? 0, ours: row.oursDays }))
      .join(' '),
  }))
  return (
    <section className="pt-4" aria-label={t('result')}>
      <DisputeTable
        caption={t('result')}
        whatHead={t('serial')}
        currency={checked.currency}
        rows={rows}
        sums={checked}
      />
      {checked.unasked.length > 0 ? (
        <p className="pt-2 type-note text-ink-2">
          {t('unasked', { serials: checked.unasked.map((one) => one.serial).join(', ') })}
        </p>
      ) : null}
    </section>
  )
}
