'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { AnswerMark } from '@/app/_components/marks/answer-mark'
import type { ExtinguisherPage, ExtinguisherRow } from '@/lib/data/gear/extinguishers'
import { formatDate } from '@/lib/format/clock'
import { EXTINGUISHER_CHECKS } from '@/lib/permit/gear-checks'
import { EXTINGUISHER_KINDS } from '@/lib/schemas/outfit'
import { addExtinguisherAction, checkExtinguisherAction, removeExtinguisherAction } from './actions'

/** Each extinguisher with what it owes; a press opens its look. */
export function ExtinguisherList({ page }: Readonly<{ page: ExtinguisherPage }>) {
  const t = useTranslations('extinguishers')
  if (page.rows.length === 0) return <p className="py-2 text-ink-2">{t('none')}</p>
  return (
    <ul>
      {page.rows.map((row) => (
        <li key={row.id} className="border-b border-rule py-3">
          <Words row={row} />
          {page.can.check || page.can.write ? (
            <details>
              <summary className="text-link min-h-12 cursor-pointer content-center desk:min-h-8">
                {t('open', { number: row.number })}
              </summary>
              {page.can.check ? <CheckForm row={row} /> : null}
              {page.can.write ? <RemoveForm row={row} /> : null}
            </details>
          ) : null}
        </li>
      ))}
    </ul>
  )
}

function Words({ row }: Readonly<{ row: ExtinguisherRow }>) {
  const t = useTranslations('extinguishers')
  return (
    <>
      <p className="font-[600]">
        <span className="type-ident">{row.number}</span>{' '}
        {t('what', { kind: t(`kinds.${row.kind as 'co2'}`), rating: row.rating })}
      </p>
      <p className="text-ink-2">{row.place}</p>
      {row.fault ? (
        <p className="flex items-center gap-2 font-[600] text-heat">
          <AnswerMark name="refused" />
          {row.fault}
        </p>
      ) : null}
      <ul className="flex flex-wrap gap-x-6">
        {row.due.map((one) => (
          <li key={one.check} className="flex items-center gap-2">
            <AnswerMark
              name={one.standing === 'done' ? 'done' : one.standing === 'soon' ? 'due' : 'late'}
              sizePx={14}
            />
            {t(`standing.${one.standing}`, {
              check: t(`checks.${one.check}`),
              day: one.dueOn
                ? formatDate(new Date(`${one.dueOn}T00:00:00Z`), { timeZone: 'UTC' })
                : '',
            })}
          </li>
        ))}
      </ul>
    </>
  )
}

function CheckForm({ row }: Readonly<{ row: ExtinguisherRow }>) {
  const t = useTranslations('extinguishers')
  const router = useRouter()
  return (
    <KeptForm
      id={`check-${row.id}`}
      action={checkExtinguisherAction}
      refusedTitle={t('refused')}
      onDone={() => router.refresh()}
      className="grid gap-3 py-2 desk:max-w-[420px]"
    >
      <input type="hidden" name="extinguisherId" value={row.id} />
      <SelectField
        name="kind"
        label={t('which')}
        options={EXTINGUISHER_CHECKS.map((kind) => ({ value: kind, label: t(`checks.${kind}`) }))}
      />
      <SelectField
        name="isGood"
        label={t('found')}
        emptyLabel={t('choose')}
        options={[
          { value: 'yes', label: t('good') },
          { value: 'no', label: t('bad') },
        ]}
      />
      <TextField name="note" label={t('note')} maxLength={200} />
      <SubmitButton kind="plain">{t('record')}</SubmitButton>
    </KeptForm>
  )
}

function RemoveForm({ row }: Readonly<{ row: ExtinguisherRow }>) {
  const t = useTranslations('extinguishers')
  const router = useRouter()
  return (
    <KeptForm
      id={`remove-${row.id}`}
      action={removeExtinguisherAction}
      refusedTitle={t('refused')}
      onDone={() => router.refresh()}
    >
      <input type="hidden" name="extinguisherId" value={row.id} />
      <SubmitButton kind="plain">{t('remove', { number: row.number })}</SubmitButton>
    </KeptForm>
  )
}

export function ExtinguisherForm({ siteId }: Readonly<{ siteId: string }>) {
  const t = useTranslations('extinguishers')
  const router = useRouter()
  return (
    <section>
      <h2 className="type-section mb-3 border-b-2 border-ink pb-1">{t('add')}</h2>
      <KeptForm
        id={`extinguisher-${siteId}`}
        action={addExtinguisherAction}
        refusedTitle={t('refused')}
        onDone={() => router.refresh()}
        className="grid gap-3"
      >
        <input type="hidden" name="siteId" value={siteId} />
        <TextField name="number" label={t('number')} isIdentity maxLength={20} />
        <SelectField
          name="kind"
          label={t('kind')}
          options={EXTINGUISHER_KINDS.map((kind) => ({ value: kind, label: t(`kinds.${kind}`) }))}
        />
        <TextField name="rating" label={t('rating')} note={t('ratingNote')} maxLength={30} />
        <TextField name="place" label={t('place')} maxLength={120} />
        <SubmitButton kind="plain">{t('add')}</SubmitButton>
      </KeptForm>
    </section>
  )
}
