'use client'

import { useRouter } from 'next/navigation'
import { useTranslations } from 'next-intl'
import { KeptForm } from '@/app/_components/form/kept-form'
import { PlainTick } from '@/app/_components/form/plain-tick'
import { SubmitButton } from '@/app/_components/form/submit-button'
import { SelectField, TextField } from '@/app/_components/form/text-field'
import { convert } from '@/lib/calc/units'
import type { TripsPage, VehicleRow } from '@/lib/data/gear/trips'
import { TRIP_PURPOSES, VEHICLE_BODIES } from '@/lib/schemas/trip'
import {
  addVehicleAction,
  changeVehicleAction,
  removeVehicleAction,
  startTripAction,
} from './actions'

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
  if (page.vehicles.length === 0) return <p className="py-2 text-ink-2">{t('noVehicles')}</p>
  return (
    <ul className="mb-6">
      {page.vehicles.map((one) => (
        <li key={one.id} className="border-b border-rule py-2">
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
            <details className="fold">
              <summary>{t('changeVehicle', { name: one.name })}</summary>
              <ChangeVehicle vehicle={one} />
            </details>
          ) : null}
        </li>
      ))}
    </ul>
  )
}

function ChangeVehicle({ vehicle }: Readonly<{ vehicle: VehicleRow }>) {
  const t = useTranslations('trips')
  const router = useRouter()
  const shared = { refusedTitle: t('refused'), onDone: () => router.refresh() }
  return (
    <div className="grid gap-4 pt-2">
      <KeptForm
        id={`change-vehicle-${vehicle.id}`}
        action={changeVehicleAction}
        {...shared}
        className="grid gap-3"
      >
        <input type="hidden" name="vehicleId" value={vehicle.id} />
        <VehicleBoxes vehicle={vehicle} />
        <SubmitButton kind="plain">{t('saveVehicle', { name: vehicle.name })}</SubmitButton>
      </KeptForm>
      <KeptForm id={`vehicle-${vehicle.id}`} action={removeVehicleAction} {...shared}>
        <input type="hidden" name="vehicleId" value={vehicle.id} />
        <SubmitButton kind="plain">{t('remove', { name: vehicle.name })}</SubmitButton>
      </KeptForm>
    </div>
  )
}

const poundsTyped = (kg: number | null) =>
  kg === null ? '' : String(Math.round(convert({ value: kg, from: 'kg', to: 'lb' })))

function VehicleBoxes({ vehicle }: Readonly<{ vehicle: VehicleRow | null }>) {
  const t = useTranslations('trips')
  return (
    <>
      <TextField
        name="name"
        label={t('vehicleName')}
        defaultValue={vehicle?.name ?? ''}
        maxLength={60}
      />
      <TextField
        name="plate"
        label={t('plate')}
        defaultValue={vehicle?.plate ?? ''}
        isIdentity
        maxLength={20}
      />
      <SelectField
        name="body"
        label={t('body')}
        defaultValue={vehicle?.body ?? ''}
        options={VEHICLE_BODIES.map((one) => ({ value: one, label: t(`bodies.${one}`) }))}
      />
      <PlainTick
        name="hasTrailer"
        label={t('hasTrailer')}
        isTicked={vehicle?.hasTrailer ?? false}
      />
      <TextField
        name="payload"
        label={t('payload')}
        note={t('payloadNote')}
        defaultValue={poundsTyped(vehicle?.payloadKg ?? null)}
        inputMode="decimal"
        maxLength={8}
      />
      <TextField
        name="trailerPayload"
        label={t('trailerPayload')}
        defaultValue={poundsTyped(vehicle?.trailerPayloadKg ?? null)}
        inputMode="decimal"
        maxLength={8}
      />
    </>
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
      <VehicleBoxes vehicle={null} />
      <SubmitButton kind="plain">{t('addVehicle')}</SubmitButton>
    </KeptForm>
  )
}
