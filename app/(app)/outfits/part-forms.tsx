'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { HOSE_GRADE_CODES } from '@/lib/calc/tables/hoses'
import type { OutfitPage } from '@/lib/data/gear/outfit'
import { PART_KINDS } from '@/lib/schemas/outfit'
import { addPartAction, removePartAction } from './actions'

/** What is on the outfit; each part may come off, others go on. */
export function PartForms({ outfit }: Readonly<{ outfit: OutfitPage }>) {
  const t = useTranslations('outfits')
  const router = useRouter()
  const shared = { refusedTitle: t('refused'), onDone: () => router.refresh() }
  return (
    <section>
      <h2 className="type-section mb-3 border-b-2 border-ink pb-1">{t('parts')}</h2>
      <ul className="mb-6">
        {outfit.parts.map((part) => (
          <li
            key={part.id}
            className="flex items-center justify-between gap-4 border-b border-rule py-2"
          >
            <span>
              {part.name} <span className="type-ident">{part.serial}</span>
              <span className="type-small block text-ink-2">
                {t(`kinds.${part.kind as 'torch'}`)}
              </span>
            </span>
            <KeptForm id={`off-${part.id}`} action={removePartAction} {...shared}>
              <input type="hidden" name="partId" value={part.id} />
              <SubmitButton kind="plain">{t('takeOff', { name: part.name })}</SubmitButton>
            </KeptForm>
          </li>
        ))}
      </ul>
      <KeptForm id={`part-${outfit.id}`} action={addPartAction} {...shared} className="grid gap-3">
        <input type="hidden" name="outfitId" value={outfit.id} />
        <SelectField
          name="kind"
          label={t('kind')}
          options={PART_KINDS.map((kind) => ({ value: kind, label: t(`kinds.${kind}`) }))}
        />
        <TextField name="name" label={t('partName')} maxLength={60} />
        <TextField name="serial" label={t('serial')} isIdentity maxLength={40} />
        <SelectField
          name="hoseGrade"
          label={t('grade')}
          emptyLabel={t('noHose')}
          options={HOSE_GRADE_CODES.map((grade) => ({ value: grade, label: t(`grades.${grade}`) }))}
        />
        <div className="grid grid-cols-2 gap-3">
          <TextField name="lengthFt" label={t('length')} inputMode="decimal" />
          <TextField name="boreIn" label={t('bore')} />
        </div>
        <TextField
          name="orificeIn"
          label={t('orifice')}
          note={t('orificeNote')}
          inputMode="decimal"
        />
        <SubmitButton kind="plain">{t('putOn')}</SubmitButton>
      </KeptForm>
    </section>
  )
}
