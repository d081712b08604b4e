'use client'

import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import type { JobFormChoices } from '@/lib/data/jobs'
import { FuelAndProcess } from '../fuel-and-process'
import { createJobAction } from './actions'

export function NewJobForm({
  choices,
  siteId,
}: Readonly<{ choices: JobFormChoices; siteId: string }>) {
  const t = useTranslations('jobs')
  const [site, setSite] = useState(siteId)
  const crews = choices.crews.filter((crew) => crew.siteId === site)
  return (
    <KeptForm
      id="new-job"
      action={createJobAction}
      refusedTitle={t('jobRefused')}
      className="flex flex-col gap-4"
    >
      <TextField name="number" label={t('jobNumber')} isIdentity maxLength={12} />
      <TextField name="title" label={t('jobTitle')} note={t('jobTitleNote')} maxLength={80} />
      <SelectField
        name="siteId"
        label={t('site')}
        defaultValue={siteId}
        onChosen={setSite}
        options={choices.sites.map((place) => ({ value: place.id, label: place.name }))}
      />
      <SelectField
        key={site}
        name="crewId"
        label={t('crew')}
        emptyLabel={t('noCrew')}
        options={crews.map((crew) => ({ value: crew.id, label: crew.name }))}
      />
      <TextField name="plannedStart" type="date" label={t('plannedStart')} />
      <TextField name="plannedEnd" type="date" label={t('plannedEnd')} />
      <TextField
        name="chancePercent"
        label={t('chance')}
        note={t('chanceNote')}
        inputMode="numeric"
        defaultValue="100"
      />
      <FuelAndProcess fuel="acetylene" process="hand" />
      <SubmitButton>{t('planJob')}</SubmitButton>
    </KeptForm>
  )
}
