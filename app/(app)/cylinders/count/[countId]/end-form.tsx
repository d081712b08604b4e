'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { PlainTick } from '@/app/_components/form/plain-tick'
import { SubmitButton } from '@/app/_components/form/submit-button'
import type { CountView } from '@/lib/data/stock-counts'
import { endCountAction } from '../actions'

type Line = CountView['lines'][number]
type EndFormProps = Readonly<{ countId: string; lines: readonly Line[] }>

/** What is not where it should be, each confirmed by a second look or left as it was. */
export function EndForm({ countId, lines }: EndFormProps) {
  const t = useTranslations('stockCount')
  const c = useTranslations('cylinders')
  return (
    <KeptForm
      id={`end-${countId}`}
      action={endCountAction}
      refusedTitle={t('refused')}
      className="flex flex-col gap-3"
    >
      <input type="hidden" name="countId" value={countId} />
      <ul className="border-t-2 border-ink">
        {lines.map((line) => (
          <li key={line.serial} className="border-b border-rule py-2">
            <div className="flex items-center justify-between gap-3">
              {line.becomes ? (
                <label className="flex min-h-12 items-center gap-3 desk:min-h-8">
                  <input
                    type="checkbox"
                    name="confirmed"
                    value={line.serial}
                    className="size-6 accent-[var(--act)] desk:size-[18px]"
                  />
                  <span className="type-ident">{line.serial}</span>
                </label>
              ) : (
                <span className="type-ident">{line.serial}</span>
              )}
              <span className={`text-right ${line.line === 'missing' ? 'trouble' : 'type-note'}`}>
                {t(`line.${line.line}`)}
              </span>
            </div>
            <p className="type-small text-ink-2">
              {[
                line.gasId ? `${c(`gas.${line.gasId}` as 'gas.oxygen')} ${line.sizeName}` : null,
                line.becomes ? t(`becomes.${line.becomes}` as 'becomes.lost') : t('openLine'),
              ]
                .filter(Boolean)
                .join('. ')}
            </p>
          </li>
        ))}
      </ul>
      <PlainTick name="lookedTwice" label={t('lookedTwice')} />
      <SubmitButton>{t('end')}</SubmitButton>
    </KeptForm>
  )
}
