'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import type { Place } from '@/lib/data/places'
import { SITE_KINDS, WEEKDAYS } from '@/lib/schemas/place'
import { addSiteAction, changeSiteAction } from './actions'

type SiteFormProps = Readonly<{
  /** None: a new one. */
  site: Place | null
  /** Sites whose rulesets a new one may begin with. */
  likes: readonly Readonly<{ id: string; name: string }>[]
  zones: readonly string[]
  firstZone: string
}>

/** What stands on every sheet of a site, and when its day ends. */
export function SiteForm({ site, likes, zones, firstZone }: SiteFormProps) {
  const t = useTranslations('places')
  const router = useRouter()
  return (
    <KeptForm
      id={site ? `site-${site.id}-${site.version}` : 'new-site'}
      action={site ? changeSiteAction : addSiteAction}
      refusedTitle={t('refused')}
      onDone={({ id }) => (site ? router.refresh() : router.push(`/sites/${id}`))}
      className="flex flex-col gap-4"
    >
      {site ? <input type="hidden" name="siteId" value={site.id} /> : null}
      {site ? <input type="hidden" name="version" value={site.version} /> : null}
      <TextField name="name" label={t('name')} defaultValue={site?.name ?? ''} maxLength={80} />
      <TextField
        name="shortName"
        label={t('shortName')}
        note={t('shortNameNote')}
        defaultValue={site?.shortName ?? ''}
        maxLength={24}
      />
      <SelectField
        name="kind"
        label={t('kind')}
        defaultValue={site?.kind ?? 'yard'}
        options={SITE_KINDS.map((kind) => ({ value: kind, label: t(`kinds.${kind}`) }))}
      />
      <SelectField
        name="zone"
        label={t('zone')}
        note={t('zoneNote')}
        defaultValue={site?.zone ?? firstZone}
        options={zones.map((zone) => ({ value: zone, label: zone }))}
      />
      <TextField
        name="address"
        label={t('address')}
        note={t('addressNote')}
        defaultValue={site?.address ?? ''}
        maxLength={200}
      />
      <TextField
        name="emergencyWords"
        label={t('emergency')}
        note={t('emergencyNote')}
        rows={3}
        defaultValue={site?.emergencyWords ?? ''}
        maxLength={300}
      />
      <TextField
        name="shiftEnds"
        type="time"
        label={t('shiftEnds')}
        defaultValue={site?.shiftEnds ?? '16:30'}
      />
      <TextField
        name="shiftStarts"
        label={t('shiftStarts')}
        note={t('shiftStartsNote')}
        defaultValue={(site?.shiftStarts ?? ['07:00']).join(' ')}
        maxLength={60}
      />
      <SelectField
        name="loneOperator"
        label={t('loneOperator')}
        note={t('loneOperatorNote')}
        defaultValue={site?.loneOperator ? 'yes' : 'no'}
        options={(['no', 'yes'] as const).map((value) => ({
          value,
          label: t(`loneOperators.${value}`),
        }))}
      />
      <SelectField
        name="paiMayWatch"
        label={t('paiMayWatch')}
        note={t('paiMayWatchNote')}
        defaultValue={site?.paiMayWatch ? 'yes' : 'no'}
        options={(['no', 'yes'] as const).map((value) => ({
          value,
          label: t(`paiMayWatches.${value}`),
        }))}
      />
      <DeliveryDays days={site?.deliveryDays ?? []} />
      {site ? null : (
        <SelectField
          name="likeSiteId"
          label={t('like')}
          note={t('likeNote')}
          options={likes.map((one) => ({ value: one.id, label: one.name }))}
        />
      )}
      <SubmitButton>{t(site ? 'save' : 'add')}</SubmitButton>
    </KeptForm>
  )
}

function DeliveryDays({ days }: Readonly<{ days: readonly number[] }>) {
  const t = useTranslations('places')
  return (
    <fieldset>
      <legend className="field-label">{t('deliveryDays')}</legend>
      <div className="flex flex-wrap gap-x-5">
        {WEEKDAYS.map((day) => (
          <label key={day} className="flex min-h-12 items-center gap-2 desk:min-h-8">
            <input
              type="checkbox"
              name="deliveryDays"
              value={day}
              defaultChecked={days.includes(Number(day))}
              className="size-6 accent-[var(--act)] desk:size-[18px]"
            />
            {t(`weekdays.${day}`)}
          </label>
        ))}
      </div>
    </fieldset>
  )
}
