'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import type { CUT_PROCESSES } from '@/lib/schemas/cut'
import { FuelAndProcess } from '../../fuel-and-process'
import { updateCutListAction } from '../actions'

type CutListFormProps = Readonly<{
  cutListId: string
  version: number
  fuel: string
  process: (typeof CUT_PROCESSES)[number]
}>

export function CutListForm({ cutListId, version, fuel, process }: CutListFormProps) {
  const t = useTranslations('jobs')
  return (
    <KeptForm
      id={`cut-list-${cutListId}-${version}`}
      action={updateCutListAction}
      className="mb-6 flex flex-col gap-4 border-b-2 border-ink pb-6"
    >
      <input type="hidden" name="cutListId" value={cutListId} />
      <input type="hidden" name="version" value={version} />
      <FuelAndProcess fuel={fuel} process={process} />
      <SubmitButton kind="plain">{t('saveFuel')}</SubmitButton>
    </KeptForm>
  )
}
