'use client'

import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { updateJobAction } from '../actions'

type Job = Readonly<{
  id: string
  version: number
  title: string
  crewId: string
  plannedStart: string
  plannedEnd: string
  chancePercent: string
}>

export function EditJobForm({
  job,
  crews,
}: Readonly<{ job: Job; crews: readonly { id: string; name: string }[] }>) {
  const t = useTranslations('jobs')
  return (
    <KeptForm
      id={`job-${job.id}-${job.version}`}
      action={updateJobAction}
      className="flex flex-col gap-4"
    >
      <input type="hidden" name="jobId" value={job.id} />
      <input type="hidden" name="version" value={job.version} />
      <TextField name="title" label={t('jobTitle')} defaultValue={job.title} maxLength={80} />
      <SelectField
        name="crewId"
        label={t('crew')}
        defaultValue={job.crewId}
        emptyLabel={t('noCrew')}
        options={crews.map((crew) => ({ value: crew.id, label: crew.name }))}
      />
      <TextField
        name="plannedStart"
        type="date"
        label={t('plannedStart')}
        defaultValue={job.plannedStart}
      />
      <TextField
        name="plannedEnd"
        type="date"
        label={t('plannedEnd')}
        defaultValue={job.plannedEnd}
      />
      <TextField
        name="chancePercent"
        label={t('chance')}
        note={t('chanceNote')}
        inputMode="numeric"
        defaultValue={job.chancePercent}
      />
      <SubmitButton>{t('saveJob')}</SubmitButton>
    </KeptForm>
  )
}
