'use client'

import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { Column, DataTable } from '@/app/_components/data-table'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import type { CheckedStatement } from '@/lib/data/rent'
import { formatMoney } from '@/lib/format/numbers'
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
  const money = (minor: number | null) =>
    minor === null ? '?' : formatMoney(minor, checked.currency)
  const head = (
    <>
      <Column isFigure>{t('row')}</Column>
      <Column>{t('serial')}</Column>
      <Column isFigure>{t('asked')}</Column>
      <Column isFigure>{t('ours')}</Column>
      <Column isFigure>{t('dispute')}</Column>
      <Column>{t('why')}</Column>
    </>
  )
  return (
    <section className="pt-4" aria-label={t('result')}>
      <p role="status" className={checked.disputeMinor > 0 ? 'trouble' : 'type-row-title'}>
        {t('total', {
          asked: money(checked.askedMinor),
          ours: money(checked.oursMinor),
          dispute: money(checked.disputeMinor),
        })}
      </p>
      <div className="overflow-x-auto">
        <DataTable caption={t('result')} head={head}>
          <tbody>
            {checked.rows.map((row) => (
              <tr key={row.row}>
                <td className="is-figure">{row.row}</td>
                <td className="type-ident">{row.serial}</td>
                <td className="is-figure">{money(row.askedMinor)}</td>
                <td className="is-figure">{money(row.oursMinor)}</td>
                <td className="is-figure">{row.disputeMinor > 0 ? money(row.disputeMinor) : ''}</td>
                <td>
                  {row.faults
                    .map((fault) =>
                      t(`fault.${fault}`, { asked: row.askedDays ?? 0, ours: row.oursDays }),
                    )
                    .join(' ')}
                </td>
              </tr>
            ))}
          </tbody>
        </DataTable>
      </div>
      {checked.unasked.length > 0 ? (
        <p className="pt-2 type-note text-ink-2">
          {t('unasked', { serials: checked.unasked.map((one) => one.serial).join(', ') })}
        </p>
      ) : null}
    </section>
  )
}
