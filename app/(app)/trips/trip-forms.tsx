'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { TickBox } from '@/app/_components/form/tick-box'
import type { TripsPage } from '@/lib/data/gear/trips'
import { TRIP_PURPOSES, VEHICLE_BODIES } from '@/lib/schemas/trip'
import { addVehicleAction, removeVehicleAction, startTripAction } from './actions'

export function StartForm({ siteId, page }: Readonly<{ siteId: string; page: TripsPage }>) {
  const t = useTranslations('trips')
  const router = useRouter()
  const free = page.vehicles.filter((vehicle) => !vehicle.isOut)
  if (free.length === 0 || page.sites.length === 0)
    return <p className="py-4 text-ink-2">{t(page.sites.length === 0 ? 'noSites' : 'noneFree')}</p>
  return (
    <KeptForm
      id={`trip-${siteId}`}
      action={startTripAction}
      refusedTitle={t('refused')}
      onDone={({ id }) => router.push(`/trips/${id}`)}
      className="mt-6 grid gap-3"
    >
      <input type="hidden" name="siteId" value={siteId} />
      <SelectField
        name="vehicleId"
        label={t('vehicle')}
        options={free.map((one) => ({
          value: one.id,
          label: t('plated', { name: one.name, plate: one.plate }),
        }))}
      />
      <SelectField
        name="toSiteId"
        label={t('to')}
        emptyLabel={t('choose')}
        options={page.sites.map((one) => ({ value: one.id, label: one.name }))}
      />
      <SelectField
        name="driverId"
        label={t('driver')}
        emptyLabel={t('choose')}
        options={page.drivers.map((one) => ({ value: one.id, label: one.name }))}
      />
      <SelectField
        name="purpose"
        label={t('purpose')}
        options={TRIP_PURPOSES.map((one) => ({ value: one, label: t(`purposes.${one}`) }))}
      />
      <SubmitButton>{t('start')}</SubmitButton>
    </KeptForm>
  )
}

export function VehicleList({ page }: Readonly<{ page: TripsPage }>) {
  const t = useTranslations('trips')
  const router = useRouter()
  if (page.vehicles.length === 0) return <p className="py-2 text-ink-2">{t('noVehicles')}</p>
  return (
    <ul className="mb-6">
      {page.vehicles.map((one) => (
        <li
          key={one.id}
          className="flex items-center justify-between gap-4 border-b border-rule py-2"
        >
          <span>
            {one.name} <span className="type-ident">{one.plate}</span>
            <span className="type-small block text-ink-2">
              {t('bodyWords', {
                body: t(`bodies.${one.body as 'open_bed'}`),
                trailer: one.hasTrailer ? 'yes' : 'no',
                out: one.isOut ? 'yes' : 'no',
              })}
            </span>
          </span>
          {page.mayMove && !one.isOut ? (
            <KeptForm
              id={`vehicle-${one.id}`}
              action={removeVehicleAction}
              refusedTitle={t('refused')}
              onDone={() => router.refresh()}
            >
              <input type="hidden" name="vehicleId" value={one.id} />
              <SubmitButton kind="plain">{t('remove', { name: one.name })}</SubmitButton>
            </KeptForm>
          ) : null}
        </li>
      ))}
    </ul>
  )
}

export function VehicleForm({ siteId }: Readonly<{ siteId: string }>) {
  const t = useTranslations('trips')
  const router = useRouter()
  return (
    <KeptForm
      id={`new-vehicle-${siteId}`}
      action={addVehicleAction}
      refusedTitle={t('refused')}
      onDone={() => router.refresh()}
      className="grid gap-3"
    >
      <input type="hidden" name="siteId" value={siteId} />
      <TextField name="name" label={t('vehicleName')} maxLength={60} />
      <TextField name="plate" label={t('plate')} isIdentity maxLength={20} />
      <SelectField
        name="body"
        label={t('body')}
        options={VEHICLE_BODIES.map((one) => ({ value: one, label: t(`bodies.${one}`) }))}
      />
      <TickBox name="hasTrailer">{t('hasTrailer')}</TickBox>
      <SubmitButton kind="plain">{t('addVehicle')}</SubmitButton>
    </KeptForm>
  )
}
