'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import type { CUT_PROCESSES } from '@/lib/schemas/cut'
import type { ListSettings } from '@/lib/schemas/list-settings'
import { FuelAndProcess } from '../../fuel-and-process'
import { updateCutListAction } from '../actions'
import { ListSettingsBoxes } from './list-settings-boxes'

type CutListFormProps = Readonly<{
  cutListId: string
  version: number
  fuel: string
  process: (typeof CUT_PROCESSES)[number]
  settings: ListSettings
}>

export function CutListForm({ cutListId, version, fuel, process, settings }: CutListFormProps) {
  const t = useTranslations('jobs')
  return (
    <KeptForm
      id={`cut-list-${cutListId}-${version}`}
      action={updateCutListAction}
      className="mb-6 flex flex-col gap-4 border-b-2 border-ink pb-6 desk:border-b-0"
    >
      <input type="hidden" name="cutListId" value={cutListId} />
      <input type="hidden" name="version" value={version} />
      <FuelAndProcess fuel={fuel} process={process} />
      <ListSettingsBoxes settings={settings} />
      <SubmitButton kind="plain">{t('saveFuel')}</SubmitButton>
    </KeptForm>
  )
}
