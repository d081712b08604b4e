'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { FieldWithUnit } from '@/app/_components/form/field-with-unit'
import { KeptForm } from '@/app/_components/form/kept-form'
import { StorageConfirm } from '@/app/_components/form/storage-confirm'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { TickBox } from '@/app/_components/form/tick-box'
import { usePrefs } from '@/app/_components/live/prefs'
import { StoreCitation } from '@/app/_components/rules/store-citation'
import type { TripPage } from '@/lib/data/gear/trips'
import { TRIP_BODIES, TRIP_CHECK_RULES, TRIP_CHECKS } from '@/lib/rules/trip'
import { leaveAction, loadOnTripAction, unloadAction } from '../actions'

type FormProps = Readonly<{ trip: TripPage }>

const MASS = {
  us: [
    { unit: 'lb', label: 'lb' },
    { unit: 'kg', label: 'kg' },
  ],
  si: [
    { unit: 'kg', label: 'kg' },
    { unit: 'lb', label: 'lb' },
  ],
} as const

function useShared() {
  const t = useTranslations('trips')
  const router = useRouter()
  return {
    t,
    units: MASS[usePrefs().units],
    shared: { refusedTitle: t('refused'), onDone: () => router.refresh(), className: 'grid gap-3' },
  }
}

export function LoadForm({ trip }: FormProps) {
  const { t, units, shared } = useShared()
  return (
    <section>
      <h2 className="type-section mb-3 border-b-2 border-ink pb-1">{t('load')}</h2>
      <KeptForm id={`load-${trip.id}`} action={loadOnTripAction} {...shared}>
        <input type="hidden" name="tripId" value={trip.id} />
        <TextField name="serial" label={t('serial')} isIdentity maxLength={40} />
        {trip.vehicle.hasTrailer ? (
          <SelectField
            name="body"
            label={t('where2')}
            options={TRIP_BODIES.map((body) => ({ value: body, label: t(`on.${body}`) }))}
          />
        ) : (
          <input type="hidden" name="body" value="truck" />
        )}
        <FieldWithUnit name="weight" label={t('weight')} note={t('weightNote')} units={units} />
        <SubmitButton kind="plain">{t('putOn')}</SubmitButton>
      </KeptForm>
    </section>
  )
}

/** Each check with the paragraph behind it; nothing is ticked beforehand. */
export function LeaveForm({ trip }: FormProps) {
  const { t, units, shared } = useShared()
  const { needs } = trip.verdict
  return (
    <section>
      <h2 className="type-section mb-3 border-b-2 border-ink pb-1">{t('before')}</h2>
      <KeptForm id={`leave-${trip.id}`} action={leaveAction} {...shared}>
        <input type="hidden" name="tripId" value={trip.id} />
        <div>
          {TRIP_CHECKS.map((check) => {
            const ruleId = TRIP_CHECK_RULES[check]
            return (
              <TickBox key={check} name="checks" value={check}>
                {t(`checks.${check}`)}{' '}
                {ruleId ? (
                  <StoreCitation ruleId={ruleId} />
                ) : (
                  <span className="type-small text-ink-2">{t('practice')}</span>
                )}
              </TickBox>
            )
          })}
        </div>
        <FieldWithUnit name="other" label={t('other')} note={t('otherNote')} units={units} />
        {needs.length > 0 ? (
          <TextField
            name="shippingPaperNo"
            label={t('paper')}
            note={t('needs.shippingPaper')}
            maxLength={40}
          />
        ) : null}
        {needs.includes('placards') ? (
          <TickBox name="placardsShown">{t('placards')}</TickBox>
        ) : null}
        <SubmitButton>{t('leave')}</SubmitButton>
      </KeptForm>
    </section>
  )
}

type UnloadProps = FormProps &
  Readonly<{
    siteId: string
    where: string
    areas: readonly Readonly<{ id: string; name: string }>[]
  }>

export function UnloadForm({ trip, siteId, where, areas }: UnloadProps) {
  const { t, shared } = useShared()
  const on = trip.items.filter((item) => !item.isOff)
  if (on.length === 0) return null
  return (
    <section>
      <h2 className="type-section mb-3 border-b-2 border-ink pb-1">{t('unload', { where })}</h2>
      <KeptForm id={`unload-${trip.id}-${siteId}`} action={unloadAction} {...shared}>
        <input type="hidden" name="tripId" value={trip.id} />
        <input type="hidden" name="siteId" value={siteId} />
        <div>
          {on.map((item) => (
            <TickBox key={item.id} name="items" value={item.id}>
              <span className="type-ident">{item.serial}</span>
            </TickBox>
          ))}
        </div>
        {areas.length > 0 ? (
          <SelectField
            name="areaId"
            label={t('area')}
            emptyLabel={t('noArea')}
            options={areas.map((area) => ({ value: area.id, label: area.name }))}
          />
        ) : null}
        <StorageConfirm />
        <SubmitButton kind="plain">{t('takeOff')}</SubmitButton>
      </KeptForm>
    </section>
  )
}
