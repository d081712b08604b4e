'use client'

import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { ReadingBoxes } from '@/app/_components/reading-boxes'
import type { CatalogueSize } from '@/lib/calc/catalogue-size'
import { readCylinderAction } from './actions'

type ReadFormProps = Readonly<{ cylinderId: string; size: CatalogueSize; tareKg: number | null }>

export function ReadForm({ cylinderId, size, tareKg }: ReadFormProps) {
  const t = useTranslations('cylinders')
  const [isKept, setIsKept] = useState(false)
  return (
    <KeptForm
      id={`read-${cylinderId}`}
      action={readCylinderAction}
      refusedTitle={t('readRefused')}
      onDone={() => setIsKept(true)}
      className="flex flex-col gap-3 border-b border-rule px-4 py-3 desk:max-w-[480px] desk:px-0"
    >
      <h2 className="type-section">{t('readTitle')}</h2>
      <input type="hidden" name="cylinderId" value={cylinderId} />
      <ReadingBoxes size={size} tareKg={tareKg} />
      <SubmitButton>{t('saveReading')}</SubmitButton>
      <p className="field-note" role="status">
        {isKept ? t('readingKept') : null}
      </p>
    </KeptForm>
  )
}
