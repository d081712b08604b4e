'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { TurnedArrow } from '@/app/_components/marks/icons'
import type { IncidentDesk } from '@/lib/data/incidents'
import { INCIDENT_KINDS, type IncidentKind, incidentFollows } from '@/lib/permit/incident'
import { recordIncidentAction } from '../actions'

type IncidentFormProps = Readonly<{
  areas: IncidentDesk['areas']
  outfits: IncidentDesk['outfits']
  permit: IncidentDesk['permit']
}>

/** What happened, with what follows at once said under the answer that brings it. */
export function IncidentForm({ areas, outfits, permit }: IncidentFormProps) {
  const t = useTranslations('incidents')
  const router = useRouter()
  const [kind, setKind] = useState('')
  const follows = kind ? incidentFollows(kind as IncidentKind, permit?.state ?? null) : []
  return (
    <KeptForm
      id={`incident-${permit?.id ?? 'new'}`}
      action={recordIncidentAction}
      refusedTitle={t('form.refused')}
      onDone={({ incidentId }) => router.push(`/incidents/${incidentId}`)}
      className="grid gap-3"
    >
      <input type="hidden" name="permitId" value={permit?.id ?? ''} />
      <SelectField
        name="kind"
        label={t('form.kind')}
        emptyLabel={t('form.choose')}
        onChosen={setKind}
        options={INCIDENT_KINDS.map((one) => ({ value: one, label: t(`kinds.${one}`) }))}
      />
      <div role="status">
        {follows.map((one) => (
          <p key={one} className="consequence">
            <TurnedArrow />
            <span>{t(`follows.${one}`)}</span>
          </p>
        ))}
      </div>
      {permit ? (
        <input type="hidden" name="areaId" value={permit.areaId} />
      ) : (
        <SelectField
          name="areaId"
          label={t('form.area')}
          emptyLabel={t('form.choose')}
          options={areas.map((area) => ({ value: area.id, label: area.name }))}
        />
      )}
      <SelectField
        name="outfitId"
        label={t('form.outfit')}
        emptyLabel={t('form.noOutfit')}
        defaultValue={permit?.outfitId ?? ''}
        options={outfits.map((outfit) => ({ value: outfit.id, label: outfit.number }))}
      />
      <TextField name="what" label={t('form.what')} rows={3} maxLength={300} />
      <TextField name="done" label={t('form.done')} note={t('form.doneNote')} maxLength={300} />
      <TextField name="agoMin" label={t('form.ago')} inputMode="numeric" defaultValue="0" />
      <SubmitButton>{t('form.keep')}</SubmitButton>
    </KeptForm>
  )
}
