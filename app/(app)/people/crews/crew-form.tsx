'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { addCrewAction, changeCrewAction } from './actions'

type CrewFormProps = Readonly<{
  /** None: a new one. */
  crew: Readonly<{ id: string; name: string; siteId: string }> | null
  sites: readonly Readonly<{ id: string; name: string }>[]
}>

export function CrewForm({ crew, sites }: CrewFormProps) {
  const t = useTranslations('people.crewForm')
  const router = useRouter()
  return (
    <KeptForm
      id={crew ? `crew-${crew.id}` : 'new-crew'}
      action={crew ? changeCrewAction : addCrewAction}
      refusedTitle={t('refused')}
      onDone={({ id }) => (crew ? router.refresh() : router.push(`/people/crews/${id}`))}
      className="flex flex-col gap-4"
    >
      {crew ? <input type="hidden" name="crewId" value={crew.id} /> : null}
      <TextField name="name" label={t('name')} defaultValue={crew?.name ?? ''} maxLength={60} />
      <SelectField
        name="siteId"
        label={t('worksAt')}
        defaultValue={crew?.siteId ?? ''}
        {...(crew || sites.length === 1 ? {} : { emptyLabel: t('choose') })}
        options={sites.map((site) => ({ value: site.id, label: site.name }))}
      />
      <SubmitButton>{t(crew ? 'save' : 'add')}</SubmitButton>
    </KeptForm>
  )
}
