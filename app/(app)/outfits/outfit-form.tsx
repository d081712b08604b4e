'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { useState } from 'react'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import type { OutfitPage } from '@/lib/data/gear/outfit'
import type { OutfitChoices } from '@/lib/data/gear/outfit-set-up'
import { OUTFIT_FUELS } from '@/lib/schemas/outfit'
import { saveOutfitAction } from './actions'

type OutfitFormProps = Readonly<{
  /** None: a new one. */
  outfit: OutfitPage | null
  choices: OutfitChoices
}>

export function OutfitForm({ outfit, choices }: OutfitFormProps) {
  const t = useTranslations('outfits')
  const g = useTranslations('permit.vessel.gas')
  const router = useRouter()
  const [siteId, setSiteId] = useState(outfit?.siteId ?? choices.sites[0]?.id ?? '')
  const crews = choices.crews.filter((crew) => crew.siteId === siteId)
  const people = choices.people.filter((person) => person.siteIds.includes(siteId))
  return (
    <KeptForm
      id={outfit ? `outfit-${outfit.id}` : 'new-outfit'}
      action={saveOutfitAction}
      refusedTitle={t('refused')}
      onDone={({ id }) => router.push(`/outfits/${id}`)}
      className="flex flex-col gap-4"
    >
      <input type="hidden" name="outfitId" value={outfit?.id ?? ''} />
      <TextField
        name="number"
        label={t('number')}
        defaultValue={outfit?.number ?? ''}
        isIdentity
        maxLength={12}
      />
      {outfit ? (
        <input type="hidden" name="fuel" value={outfit.fuelGasId} />
      ) : (
        <SelectField
          name="fuel"
          label={t('fuel')}
          note={t('fuelNote')}
          options={OUTFIT_FUELS.map((fuel) => ({ value: fuel, label: g(fuel) }))}
        />
      )}
      <SelectField
        name="siteId"
        label={t('site')}
        defaultValue={siteId}
        onChosen={setSiteId}
        options={choices.sites.map((site) => ({ value: site.id, label: site.name }))}
      />
      <SelectField
        key={`crew ${siteId}`}
        name="crewId"
        label={t('crew')}
        emptyLabel={t('noCrew')}
        defaultValue={outfit?.crewId ?? ''}
        options={crews.map((crew) => ({ value: crew.id, label: crew.name }))}
      />
      <SelectField
        key={`holder ${siteId}`}
        name="holderId"
        label={t('holder')}
        emptyLabel={t('noHolder')}
        defaultValue={outfit?.holderId ?? ''}
        options={people.map((person) => ({ value: person.id, label: person.name }))}
      />
      <TextField
        name="rentedFrom"
        label={t('rentedFrom')}
        note={t('rentedNote')}
        defaultValue={outfit?.rentedFrom ?? ''}
        maxLength={80}
      />
      <div className="grid grid-cols-2 gap-3">
        <TextField
          name="oxygenPlaces"
          label={t('oxygenPlaces')}
          inputMode="numeric"
          defaultValue={String(outfit?.oxygenPlaces ?? 1)}
        />
        <TextField
          name="fuelPlaces"
          label={t('fuelPlaces')}
          inputMode="numeric"
          defaultValue={String(outfit?.fuelPlaces ?? 1)}
        />
      </div>
      <SubmitButton>{t(outfit ? 'save' : 'add')}</SubmitButton>
    </KeptForm>
  )
}
